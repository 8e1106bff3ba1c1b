"""`python -m server` is the command `lapwright`."""

import sys

from .cli import main

sys.exit(main())
