"""Write the form: what is asked where, how it looks, what is counted on it."""
