"""How-to: a card of drawn steps for each kind of work, on the screen and on paper."""
