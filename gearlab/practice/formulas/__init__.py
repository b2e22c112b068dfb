"""Formulas: the grammar of typed ones, trees and functions of floats, and answers by a bank's own formula."""
