"""What the owner of a book asks of it: words, explanations, edges, doubts."""
