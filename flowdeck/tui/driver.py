"""Reading the keyboard: bytes that are no text (a terminal of another encoding) cost a key, not the flight."""

from textual.drivers.linux_driver import LinuxDriver


class PatientDriver(LinuxDriver):
    """The usual driver of a terminal, which begins to read anew after what it cannot decode."""

    def run_input_thread(self) -> None:
        while not self.exit_event.is_set():
            try:
                super().run_input_thread()
            except UnicodeDecodeError:
                continue
