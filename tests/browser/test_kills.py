"""What the page has kept arrives once, though browser and laptop are killed meanwhile."""

import json

from tests.benchmarks.kills import good, run

KILLS = 6


def test_what_was_kept_before_a_kill_arrives_once(chromium, tmp_path):
    found = run(chromium.browser_type, tmp_path, KILLS, seed=1)
    print(json.dumps(found))
    assert good(found), found
    assert sum(found["kills"].values()) == KILLS and found["kept"] > KILLS, found
