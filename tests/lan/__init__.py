"""Laptop and phone as two machines on a network of their own.

Law: nothing is made easier than on site. The browser runs alone in the phone's network
namespace and trusts what its own store of certificates holds; no flag lets a bad
certificate or an insecure origin pass. The laptop's server is killed, not made unreachable
for the page alone. `python -m tests.lan.mutations` breaks each of these and expects failures.
"""
