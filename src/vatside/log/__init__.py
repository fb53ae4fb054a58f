"""What happened: events, their effects and words, and the state that follows."""
