"""Joints and boards together: the fewest or cheapest boards, with a proof, then the look."""
