"""The screens of a live vat."""
