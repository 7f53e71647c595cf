"""A connection to a browser that is patient, but not without end."""

import asyncio

from uvicorn.protocols.http.h11_impl import H11Protocol


class PatientConnection(H11Protocol):
    """Is closed if the head of a request does not come whole within the time for an idle one."""

    _by: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Wait for the first request."""
        super().connection_made(transport)
        self._await_head()

    def handle_events(self) -> None:
        """Take what came; wait no more once a head is whole."""
        answering = self.cycle
        super().handle_events()
        if self.cycle is not answering:
            self._stop_waiting()

    def send_400_response(self, msg: str) -> None:
        """Refuse nonsense; what comes after a request is no answer to that request."""
        if self.cycle is None or self.cycle.response_complete:
            super().send_400_response(msg)
            return
        self.cycle.disconnected = True
        self.cycle.message_event.set()
        self.transport.close()

    def on_response_complete(self) -> None:
        """Wait for the next request, unless it is there already."""
        self._await_head()
        super().on_response_complete()

    def connection_lost(self, exc: Exception | None) -> None:
        """Wait for nothing more."""
        self._stop_waiting()
        super().connection_lost(exc)

    def _await_head(self) -> None:
        self._stop_waiting()
        self._by = self.loop.call_later(self.timeout_keep_alive, self._give_up)

    def _stop_waiting(self) -> None:
        if self._by is not None:
            self._by.cancel()
            self._by = None

    def _give_up(self) -> None:
        if not self.transport.is_closing():
            self.transport.close()
