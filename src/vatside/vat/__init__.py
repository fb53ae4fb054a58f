"""Looking after a live vat: account, reading, diagnosis, corrections, its end."""
