"""People: how they come in, how they prove who they are, what they may do, how they leave."""
