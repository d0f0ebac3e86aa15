"""One shop: where its data lies, its branch, and its passphrase."""
