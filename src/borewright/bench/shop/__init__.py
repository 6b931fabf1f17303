"""The shop's view: serial numbers by what they wait for, checks, cost, orders, papers."""
