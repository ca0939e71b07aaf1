"""The rule language: text in, a checked rule book out, and two evaluators that judge by it."""
