"""Runs the same command as `shopdesk`."""

from shopdesk.terminal.main import main

if __name__ == "__main__":
    main()
