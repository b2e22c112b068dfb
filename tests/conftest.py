"""Settings of one test run: kernels that treat warnings as errors, answers kept out of the way."""

import os
import tempfile

import pytest
from hypothesis import settings

# The same examples in every run, so that a red test is red for a reason; HYPOTHESIS_PROFILE=wide looks
# further.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("wide", max_examples=500, deadline=None)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))


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
