"""Questions with many right answers: what is chosen, the conditions on it, and their check."""
