"""What a hoist is: designs, parts, and the features that can be measured on them."""
