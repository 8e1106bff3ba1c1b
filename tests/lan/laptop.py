"""The command `lapwright` with a copy of web/ in place of its own, and an answer that is long.

`python -m tests.lan.laptop WEB [lapwright's own arguments]`
"""

import sys
import time

from server import app as factory
from server import cli


def main(web, *arguments):
    """Run the command; its exit code."""
    make = factory.create_app

    def create_app(config):
        app = make({**config, "WEB": web, "RESCAN": 0.2})

        @app.get("/api/long")
        def long():
            def lines():
                while True:
                    yield f"data: {time.time()}\n\n".encode()
                    time.sleep(0.2)

            return app.response_class(lines(), mimetype="text/event-stream")

        return app

    factory.create_app = create_app
    return cli.main(list(arguments))


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
