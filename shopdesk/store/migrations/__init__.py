"""The steps from each schema to the next, in `versions`; run by shopdesk.store.upgrading."""
