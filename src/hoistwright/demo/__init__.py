"""The demo shop: Kittiwake Quay Lifting Works. Everything in it is invented."""
