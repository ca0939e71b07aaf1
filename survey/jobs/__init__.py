"""Many jobs at once: which can start, when, and who holds each of them up."""
