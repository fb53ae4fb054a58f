"""What reaches from one session to another: repeating, comparing, keeping a vat, the same blue, the class card."""
