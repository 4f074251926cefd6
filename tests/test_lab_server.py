"""What the kit adds to the Jupyter server is there, and does what it says."""

import asyncio
import copy
import sys
import types

import nbformat
import pytest
from jupyter_server.services.contents.filemanager import FileContentsManager
from jupyter_server.services.kernels.websocket import KernelWebsocketHandler

from mechkit import lab_server

PANEL = {
    "text/plain": "VBox(...)",
    "image/png": "aGVsbG8=",
    lab_server.WIDGET: {"model_id": "1", "version_major": 2, "version_minor": 0},
}


@pytest.fixture
def handler(monkeypatch):
    """The server's handler class with an ``open`` that only notes that it was called."""
    calls = []

    async def opened(self, kernel_id):
        calls.append(("open", kernel_id))

    monkeypatch.setattr(KernelWebsocketHandler, "open", opened)
    monkeypatch.setattr(KernelWebsocketHandler, "set_nodelay", lambda _, on: calls.append(on))
    return calls


def test_a_kernel_socket_sends_at_once(handler):
    assert lab_server.send_at_once()
    asyncio.run(KernelWebsocketHandler.open(object.__new__(KernelWebsocketHandler), "k"))
    assert handler == [True, ("open", "k")]


def test_twice_is_once(handler):
    assert lab_server.send_at_once()
    once = KernelWebsocketHandler.open
    assert lab_server.send_at_once()
    assert KernelWebsocketHandler.open is once


def test_another_server_is_left_alone(monkeypatch):
    monkeypatch.setitem(sys.modules, "jupyter_server.services.kernels.websocket", None)
    assert not lab_server.send_at_once()


def test_a_handler_that_opens_otherwise_is_left_alone(monkeypatch):
    module = types.SimpleNamespace(KernelWebsocketHandler=object)
    monkeypatch.setitem(sys.modules, "jupyter_server.services.kernels.websocket", module)
    assert not lab_server.send_at_once()


def notebook():
    """A notebook with a panel that has a picture, one that has none, and saved widget state."""
    cells = [nbformat.v4.new_code_cell("panel"), nbformat.v4.new_markdown_cell("words")]
    bare = {key: value for key, value in PANEL.items() if key != "image/png"}
    cells[0].outputs = [
        nbformat.v4.new_output("display_data", copy.deepcopy(PANEL)),
        nbformat.v4.new_output("display_data", copy.deepcopy(bare)),
        nbformat.v4.new_output("stream", text="hello"),
    ]
    page = nbformat.v4.new_notebook(cells=cells)
    page.metadata["widgets"] = {"application/vnd.jupyter.widget-state+json": {"state": {}}}
    return page


def test_saving_keeps_the_picture_and_drops_the_dead_panel(tmp_path):
    manager = FileContentsManager(root_dir=str(tmp_path))
    manager.register_pre_save_hook(lab_server.keep_pictures)
    manager.save({"type": "notebook", "format": "json", "content": notebook()}, "a.ipynb")
    saved = nbformat.read(tmp_path / "a.ipynb", 4)
    pictured, bare, stream = saved.cells[0].outputs
    assert set(pictured.data) == {"text/plain", "image/png"}
    assert lab_server.WIDGET in bare.data
    assert stream.text == "hello"
    assert "widgets" not in saved.metadata


def test_other_files_are_saved_as_they_are(tmp_path):
    manager = FileContentsManager(root_dir=str(tmp_path))
    manager.register_pre_save_hook(lab_server.keep_pictures)
    manager.save({"type": "file", "format": "text", "content": "a = 1\n"}, "sheet.toml")
    manager.save({"type": "directory"}, "sheets")
    assert (tmp_path / "sheet.toml").read_text("utf-8") == "a = 1\n"
    assert (tmp_path / "sheets").is_dir()
