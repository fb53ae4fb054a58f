"""The one shelf of powders."""
