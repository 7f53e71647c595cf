"""From what a person typed to an order, with every fault in it at once; it prints nothing."""
