"""The laptop's side: Flask app, jobs on disk, http and https, QR, command line.

Law: thin. No formulas and no second reading of a job: what is numeric is asked
of calc through calc.bridge, what a job may hold is asked of calc.job. Every
error leaves in the one shape of errors.py; an answer of 200 or 201 to a write
means that it is on the disk.
"""
