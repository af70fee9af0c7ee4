"""A flight over the network: the host's server and a guest's link."""
