"""How a command is stopped. It imports next to nothing, so that it stands before all else is loaded."""

import signal


class _Answered:
    """While this lasts, the signal `number` has the answer `meanwhile`, unless whoever started the command has given it
    another than the `usual` one.
    """

    number: signal.Signals
    usual: object
    meanwhile: object

    def __enter__(self) -> None:
        self._is_usual = signal.getsignal(self.number) is self.usual
        self._answer(self.meanwhile)

    def __exit__(self, *_: object) -> None:
        self._answer(self.usual)

    def _answer(self, how: object) -> None:
        if self._is_usual:
            signal.signal(self.number, how)  # type: ignore[arg-type]  # one of the three below


class AtOnce(_Answered):
    """While this lasts, Ctrl-C ends the process there and then, without a word: for what writes nothing.

    Python would raise an error at whatever line it is, of which a library that is being loaded may show a trace, or
    which it may take for its own.
    """

    number, usual, meanwhile = signal.SIGINT, signal.default_int_handler, signal.SIG_DFL


class Alike(_Answered):
    """While this lasts, whoever asks the process to end is answered as Ctrl-C is: what is half written is put back."""

    number, usual, meanwhile = signal.SIGTERM, signal.SIG_DFL, signal.default_int_handler
