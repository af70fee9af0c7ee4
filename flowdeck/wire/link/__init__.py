"""What passes between the host of a flight and its guests, sans-IO: bytes in, messages out; frozen values."""
