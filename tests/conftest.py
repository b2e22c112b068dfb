"""Settings of one test run: kernels that treat warnings as errors, answers kept out of the way."""

import os
import tempfile

import pytest


def pytest_configure(config):
    # Inherited by the notebook kernels that nbval starts: a warning in a lesson fails it.
    os.environ["PYTHONWARNINGS"] = "error"
    # Answers typed during a test run never lie beside the lessons, nor do an earlier run's come back.
    if "GEARLAB_ANSWERS" not in os.environ:
        config.gearlab_answers = tempfile.TemporaryDirectory(prefix="gearlab-answers-")
        os.environ["GEARLAB_ANSWERS"] = config.gearlab_answers.name


def pytest_unconfigure(config):
    folder = getattr(config, "gearlab_answers", None)
    if folder is not None:
        folder.cleanup()
        os.environ.pop("GEARLAB_ANSWERS", None)


@pytest.fixture
def answers_folder(tmp_path, monkeypatch):
    """A fresh folder for answers, for a test that types some."""
    monkeypatch.setenv("GEARLAB_ANSWERS", str(tmp_path))
    return tmp_path
