"""The web program: pages, forms, sign-in, and the server that serves them."""
