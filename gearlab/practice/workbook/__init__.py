"""What the workbook knows of its lessons, and remembers of its reader."""
