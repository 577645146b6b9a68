"""What is wrong with a rig file, and any other error, as lines to read."""

from geometry.printable import shown
from sim.table.problems import MOST_LINES, NOTHING, Problem, RigError
from viewer.words.remarks import said


def problem_words(problem: Problem) -> str:
    """One line, without the file."""
    place = f"{problem.key}: " if problem.key else ""
    why = f" ({said(problem.why)})" if problem.why else ""
    return shown(f"{place}{problem.found}{why}, expected {said(problem.expected)}")


def problem_line(problem: Problem) -> str:
    """The same after the name of the file."""
    return f"{shown(problem.file)}: {problem_words(problem)}"


def came_words(problem: Problem) -> str:
    """What came, and why that will not do."""
    return f"{problem.came} ({said(problem.why)})" if problem.why else problem.came


def typed_problem(problem: Problem) -> str:
    """What is wrong, in the words of the rig file, without the place."""
    why, expected = f" ({said(problem.why)})" if problem.why else "", said(problem.expected)
    if problem.came == NOTHING:
        return f"nothing is typed here{why}; expected {expected}"
    return f"{problem.came} will not do{why}; expected {expected}"


def error_words(error: BaseException) -> str:
    """What an error says: of a rig file a line for each problem, of any other its own words."""
    if not isinstance(error, RigError):
        return str(error)
    told = error.problems[:MOST_LINES]
    lines = [problem_line(problem) for problem in told]
    left = len(error.problems) - MOST_LINES
    return "\n".join([*lines, *([f"and {left} more"] if left > 0 else [])])
