"""One job on many phones: its copies and their merge. No reading is dropped."""
