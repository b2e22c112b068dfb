"""What is asked: numbers and expressions read, questions drawn, answers judged and kept."""
