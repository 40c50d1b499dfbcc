package store

func attacks(outside string) []attack { return linkAttacks(outside) }
