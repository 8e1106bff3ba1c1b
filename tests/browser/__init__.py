"""Checks of the page and its worker in the system's Chromium."""
