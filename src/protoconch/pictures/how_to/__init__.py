"""Line drawings for the how-to cards: a small kit of parts, and a scene of them for each step."""
