"""What all screens share."""
