"""What an event does to the state."""
