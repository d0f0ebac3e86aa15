"""From plain text to tokens: words with their meanings, numbers, lists, quantities."""
