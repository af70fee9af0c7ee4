"""What a screen or a report shows, as small frozen values without markup."""
