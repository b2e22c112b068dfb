"""What is handed out: the frozen edition of a set, each student's sheet, its pages, the key sheet."""
