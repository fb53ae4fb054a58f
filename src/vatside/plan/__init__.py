"""What the dyer decides, and the words of the sheet."""
