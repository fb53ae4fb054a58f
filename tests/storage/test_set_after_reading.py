"""A plan can be changed whether it was made here or read from a file."""

from __future__ import annotations

import subprocess
import sys


def test_reading_a_plan_leaves_its_places_open() -> None:
    """Every kind of place takes its value after a plan was read, in a process that does nothing else."""
    code = (
        "import json\n"
        "from vatside.plan.paths import get_value, set_value\n"
        "from vatside.plan.starter import starter_plan\n"
        "from vatside.storage.codec import plan_from_json, plan_to_json\n"
        "from vatside.units import Amount\n"
        "plan = plan_from_json(json.loads(json.dumps(plan_to_json(starter_plan()))))\n"
        "new = {'lots.a.mass': Amount(300, 'g'), 'lots.a.pieces': 3, 'title': 'Blue', 'ready_by': None,"
        " 'lots.a.form': 'cloth', 'water.hot': Amount(50, 'degC'), 'stock.pigment': Amount(7, 'g')}\n"
        "for path, value in new.items(): plan = set_value(plan, path, value)\n"
        "print([path for path, value in new.items() if get_value(plan, path) != value])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.stdout.strip(), done.stderr) == ("[]", "")
