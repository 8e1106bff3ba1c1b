"""What the page says in plain words, each in one place for the tests of this folder."""

SAVED = "Saved on this phone. Opens without the laptop."
TAB_ONLY = "Works while this tab is open. Don’t reload away from the laptop."
UNTRUSTED = "This phone doesn’t trust the laptop’s certificate yet. Works while this tab is open."
AWAY = "Laptop not reachable"
NEWER = "A new version of this page is ready."
CHANGE = "Change to it"
