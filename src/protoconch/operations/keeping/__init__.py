"""The records taken out whole, brought back, and looked over."""
