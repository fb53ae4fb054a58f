"""What she does at the board of the dips."""
