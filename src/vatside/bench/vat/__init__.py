"""What she does to a live vat."""
