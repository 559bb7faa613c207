"""`python -m explore`: the same as `stampwork`."""

from explore.start import main

if __name__ == "__main__":
    main()
