"""What all pages share: the frame, the look, the words, the faults."""
