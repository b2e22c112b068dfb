"""What comes in: whose file it is, what stands in it, and which of them counts."""
