"""Pure questions about a state: what follows for vat and dips."""
