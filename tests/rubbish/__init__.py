"""What nobody should send, and what is answered: one sentence, nothing lost, nothing broken."""
