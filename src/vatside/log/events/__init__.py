"""What can happen in a day."""
