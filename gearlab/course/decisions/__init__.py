"""What people decide about marks: their file read, checked and applied, and the texts that they mark."""
