"""When the power is out: hours of oxygen, battery, generator, order."""
