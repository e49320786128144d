"""Opening the app from the command line, on its own data or on a folder."""

from __future__ import annotations

from pathlib import Path

from mobileapp.exit_codes import Trouble


def open_app(watched: Path | None = None) -> int:
    """Open the app on its own data. Photos that come into the folder `watched` are taken up where one is asked for."""
    from mobileapp.data_folder import data_folder

    if watched is not None and not watched.is_dir():
        raise Trouble(f"{watched} is not a folder. Name the one into which the camera puts its photos.")
    return open_app_on(data_folder(), watched)


def open_app_on(folder: Path, watched: Path | None = None) -> int:
    """Open the app on the journal in `folder`, and stay until it is closed."""
    from mobileapp import kivy_env

    if not kivy_env.has_display():
        raise Trouble("There is no screen here to open the app on. Try: countback demo")
    try:
        from mobileapp.app import run_app
    except ModuleNotFoundError as missing:
        raise Trouble(f"The app cannot start: {missing.name} is not installed. Install it with: pip install countback"
                      ) from missing  # fmt: skip
    return run_app(folder, watched)
