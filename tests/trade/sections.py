"""A section of a job, drafted for tests."""

import re

from calc.draft import Draft
from calc.job import read_job

# A step ends with its source in brackets.
SOURCE = re.compile(r"\([^()]*(\([^()]*\)[^()]*)*\)$")


def drafted(section, doc, plan=None):
    """The Answer that the section writes of a job document and its plan."""
    job = read_job(doc)
    d = Draft(job.unit)
    section.write(d, job, plan)
    return d.done()


def texts(answer):
    """Every text of an answer but its cautions."""
    out = [t for f in answer.figures for t in (f.label, f.text, f.lean, f.say)]
    out += [t for row in answer.rows for t in row]
    for table in answer.tables:
        out += [table.title, *table.columns, *[cell for row in table.rows for cell in row]]
    return out + answer.warnings + answer.working
