"""Looking after a live vat: what a reading means, what to do about it, and how the vat ends."""
