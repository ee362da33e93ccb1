"""The work: what to do on a day, how much of it, and the hours it takes."""
