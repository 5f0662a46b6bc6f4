"""Stopping a command while it loads. It imports next to nothing, so that it stands before all else is loaded."""

import signal


class AtOnce:
    """While this lasts, Ctrl-C ends the process there and then, without a word: for what writes nothing.

    Python would raise an error at whatever line it is, of which a library that is being loaded may show a trace, or
    which it may take for its own.
    """

    def __enter__(self) -> None:
        self._before = signal.getsignal(signal.SIGINT)
        if self._before is signal.default_int_handler:  # else whoever started the command wants it otherwise
            signal.signal(signal.SIGINT, signal.SIG_DFL)

    def __exit__(self, *_: object) -> None:
        if self._before is signal.default_int_handler:
            signal.signal(signal.SIGINT, signal.default_int_handler)


class Alike:
    """While this lasts, whoever asks the process to end is answered as Ctrl-C is: what is half written is put back."""

    def __enter__(self) -> None:
        self._before = signal.getsignal(signal.SIGTERM)
        if self._before is signal.SIG_DFL:  # else whoever started the command wants it otherwise
            signal.signal(signal.SIGTERM, signal.default_int_handler)

    def __exit__(self, *_: object) -> None:
        if self._before is signal.SIG_DFL:
            signal.signal(signal.SIGTERM, signal.SIG_DFL)
