"""What the bench keeps beside the journal: accounts, sessions, gauges, test weights, designs."""
