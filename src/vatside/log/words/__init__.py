"""What the log says of an event."""
