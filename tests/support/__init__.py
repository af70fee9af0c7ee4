"""What tests share: a small deck written as text, and a flight that is told what its signals read."""
