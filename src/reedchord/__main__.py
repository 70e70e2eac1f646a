"""`python -m reedchord` is the command `reedchord`."""

from reedchord.cli.start import main

if __name__ == "__main__":
    main()
