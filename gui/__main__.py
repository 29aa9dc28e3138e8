"""`python -m gui`: the window."""

if __name__ == "__main__":
    from gui.app import main

    raise SystemExit(main())
