import importlib
import inspect
import pkgutil

import pytest

import drafter.sizing
import drafter.standards


def _public_functions():
    for package in (drafter.standards, drafter.sizing):
        for found in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            module = importlib.import_module(found.name)
            for name, function in inspect.getmembers(module, inspect.isfunction):
                if not name.startswith("_") and function.__module__ == found.name:
                    yield f"{found.name}.{name}", function


FUNCTIONS = dict(_public_functions())


@pytest.mark.parametrize("name", FUNCTIONS)
def test_every_public_function_names_its_source(name):
    _, _, source = inspect.getdoc(FUNCTIONS[name]).partition("Source:")
    assert source.strip(), f"{name} says nothing after 'Source:'"


def test_the_functions_are_found():
    assert "drafter.standards.air.viscosity_pa_s" in FUNCTIONS
    assert "drafter.sizing.solving.solver.solve" in FUNCTIONS
