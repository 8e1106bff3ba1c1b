"""The trade's figures beside the layout: moisture, nails, boxes, trim, coats, time, money.

Law: one file for each matter, with one calculation of it; a quick calculator and a section of
a job (section_*.py) both write it into a Draft, so there is no second one. Every step of the
working gives the formula in words, the numbers put in, the result and its source, or "common
practice". Figures of codes warn, and never decide.
"""
