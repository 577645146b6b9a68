"""The command line: `bindpoint check`, `joint`, `pose`, `new`, `yoke`, `cures`, `build`.

Only this file and `viewer.start` are read for `bindpoint --help`; each command imports what it
needs when it runs.
"""

from collections.abc import Sequence
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any, cast

import typer
from typer.main import get_command

from viewer.endings import BAD_INPUT, CLEAR
from viewer.written.files import AskedError

UsageError = cast("type[Exception]", typer.BadParameter.__mro__[1])
"""What typer says of words that it cannot read; where it lives has changed between versions."""


app = typer.Typer(
    name="bindpoint",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    help="Find the point at which a driveshaft binds. A geometry estimate; it certifies nothing.",
)


class JointName(StrEnum):
    """Which joint of the shaft."""

    OUTPUT = "output"
    MIDDLE = "middle"
    PINION = "pinion"


def _to(metavar: str, help: str) -> Any:  # noqa: A002  typer's word
    """What an option takes and what it does."""
    return typer.Option(metavar=metavar, help=help)


RigFile = Annotated[
    str, typer.Argument(metavar="RIG", help="Rig file, or demo:NAME for one of the demo rigs.")
]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object.")]
File = Path | None
Text = str | None
Picture = Annotated[File, _to("F.png", "Draw what it found.")]
Force = Annotated[bool, typer.Option("--force", help="Replace whatever file is there.")]


@app.command()
def check(
    rig: RigFile,
    as_json: AsJson = False,
    full: Annotated[bool, typer.Option("--full", help="Print everything.")] = False,
    sure: Annotated[
        bool, typer.Option("--sure", help="Draw whole trucks to tell how sure it is; 20 s.")
    ] = False,
    table: Annotated[File, _to("F.csv", "Write the poses.")] = None,
    picture: Picture = None,
    path: Annotated[
        File, _to("F.csv|F.png", "Where the pinion joint goes, as a table or a plot.")
    ] = None,
    force: Force = False,
) -> None:
    """Move the axle through all of its travel and say what binds first, and by how much."""
    from viewer.commands.check import run

    raise typer.Exit(run(rig, as_json, table, picture, path, force, full, sure))


@app.command()
def joint(
    rig: RigFile,
    which: Annotated[JointName, typer.Argument(metavar="output|middle|pinion")],
    as_json: AsJson = False,
    relief: Annotated[Text, _to("BEND", 'What grinding gains, for a bend of "30 deg".')] = None,
    export: Annotated[File, _to("DIR", "With --relief: write the ground yokes.")] = None,
    picture: Annotated[
        File, _to("F.png", "Draw when it touches; with --relief what to grind.")
    ] = None,
    force: Force = False,
) -> None:
    """Show how far one joint bends before it binds, over a full turn of the shaft."""
    if relief is not None:
        from viewer.commands.relief import run as run_relief

        raise typer.Exit(run_relief(rig, which.value, relief, as_json, export, picture, force))
    if export is not None:
        raise AskedError('--export goes with --relief, as --relief "30 deg"')
    from viewer.commands.joint import run

    raise typer.Exit(run(rig, which.value, as_json, picture, force))


@app.command()
def pose(
    rig: RigFile,
    travel: Annotated[
        str, typer.Option(help='Axle height: "6 in droop", "4 in bump", "ride".')
    ] = "ride",
    roll: Annotated[
        str, typer.Option(help='Crossed up: "8 deg left up" or "8 deg right up".')
    ] = "0 deg",
    wrap: Annotated[
        str, typer.Option(help='Axle wrap: "4 deg nose down" or "8 deg nose up".')
    ] = "0 deg",
    spin: Annotated[str, typer.Option(help="Turn of the output yoke.")] = "0 deg",
    as_json: AsJson = False,
    export: Annotated[File, _to("DIR", "Write every part as a mesh, and poses.json.")] = None,
    picture: Picture = None,
    force: Force = False,
) -> None:
    """Look at one position: bends, gaps, slip."""
    from viewer.commands.pose import run

    raise typer.Exit(run(rig, (travel, roll, wrap), spin, as_json, export, picture, force))


@app.command()
def new(
    file: Annotated[
        File, typer.Argument(metavar="[F.toml]", help="Where to write the rig file.")
    ] = None,
    json_schema: Annotated[
        File, _to("F.json", "Write the JSON Schema of rig files for an editor.")
    ] = None,
    force: Force = False,
) -> None:
    """Ask for the measurements one by one and write a rig file."""
    from viewer.commands.new import run

    raise typer.Exit(run(file, json_schema, force))


@app.command()
def yoke(
    file: Annotated[
        File,
        typer.Argument(
            metavar="FILE",
            help="Scan or drawing (STL, OBJ, PLY, 3MF, GLB); with --measured a TOML of readings; "
            "with --bench a rig file.",
        ),
    ] = None,
    measured: Annotated[
        bool, typer.Option("--measured", help="Ask for caliper readings instead, one by one.")
    ] = False,
    bench: Annotated[
        JointName | None,
        typer.Option("--bench", help="Ask for readings of this joint, bent until it touches."),
    ] = None,
    unit: Annotated[Text, _to("mm|cm|m|in", "Unit of the file's numbers.")] = None,
    cross: Annotated[Text, _to("SIZE", 'Cross that goes in, such as "27 x 82".')] = None,
    picks: Annotated[
        Text,
        _to(
            "POINTS",
            'Where no bores are found: "x,y,z; x,y,z; x,y,z", the middle of each bore and a point '
            "on the shaft, in the file's numbers.",
        ),
    ] = None,
    drawings: Annotated[
        File, _to("DIR", "With --measured or --bench: write a drawing of each reading.")
    ] = None,
    write: Annotated[File, _to("F.toml", "Write the lines for the rig file.")] = None,
    picture: Picture = None,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Bring in your own yoke, from a scan, by caliper, or from the joint on the bench."""
    from viewer.commands.yoke import Wanted, run

    wanted = Wanted(write, picture, force)
    if bench is not None:
        if measured or as_json or {unit, cross, picks, picture} != {None}:
            raise AskedError("yoke --bench: came with an option that goes with one yoke only")
        if file is None:
            raise AskedError("yoke --bench: no rig named, expected a rig file or demo:NAME")
        from viewer.commands.bench import run as run_bench

        raise typer.Exit(run_bench(str(file), bench.value, drawings, wanted))
    if measured:
        if unit is not None or picks is not None:
            raise AskedError("yoke --measured: --unit and --picks go with a mesh file only")
        from viewer.commands.measured_yoke import run as run_measured

        raise typer.Exit(run_measured(file, cross, drawings, as_json, wanted))
    if file is not None and drawings is not None:
        raise AskedError("yoke: --drawings goes with --measured or --bench only")
    raise typer.Exit(run(file, unit, cross, picks, as_json, wanted))


@app.command()
def cures(
    rig: RigFile,
    as_json: AsJson = False,
    save: Annotated[int | None, _to("N", "Write the rig with cure number N in it.")] = None,
    to: Annotated[File, _to("F.toml", "With --save: where to write it.")] = None,
    weights: Annotated[File, _to("F.toml", "What parts and hours cost in your shop.")] = None,
    aim: Annotated[File, _to("F.csv|F.png", "Where to aim the pinion: shake against room.")] = None,
    grind: Annotated[
        bool, typer.Option("--grind", help="Also figure what grinding the yokes would take; slow.")
    ] = False,
    without: Annotated[
        list[str] | None,
        _to("REMEDY", "Leave one out, such as straps; may be given several times."),
    ] = None,
    force: Force = False,
) -> None:
    """Try every cure on the rig: the least of each that works, cheapest first."""
    from viewer.commands.cures import run

    raise typer.Exit(run(rig, as_json, save, to, weights, aim, grind, without or (), force))


@app.command()
def build(
    rig: RigFile, as_json: AsJson = False, picture: Picture = None, force: Force = False
) -> None:
    """Print the build ticket: what to cut, what the shaft takes, how fast it may turn."""
    from viewer.commands.build import run

    raise typer.Exit(run(rig, as_json, picture, force))


class When(StrEnum):
    """When it shakes."""

    POWER = "power"
    COAST = "coast"
    ANY = "any"
    TAKEOFF = "takeoff"


class Feel(StrEnum):
    """How a shake feels."""

    BUZZ = "buzz"
    SHUDDER = "shudder"
    BOOM = "boom"


class Follows(StrEnum):
    """What a shake keeps in step with."""

    ROAD = "road"
    ENGINE = "engine"


class Only(StrEnum):
    """What a shake takes."""

    FOUR_WHEEL = "4wd"
    HUBS_LOCKED = "hubs-locked"
    LOADED = "loaded"
    DROOPED = "drooped"


@app.command()
def vibration(
    rig: RigFile,
    at: Annotated[
        Text, _to("SPEED", 'When it shakes: "45 mph", "70 km/h", or the shaft\'s own "2100 rpm".')
    ] = None,
    engine: Annotated[Text, _to("RPM", 'Or the engine\'s speed, "2400 rpm", with --gear.')] = None,
    gear: Annotated[Text, _to("RATIO", "The gear it is in, as 0.75; the top gear else.")] = None,
    when: Annotated[When | None, typer.Option(help="any: in neutral too.")] = None,
    feel: Annotated[Feel | None, typer.Option(help="Fast, slow, or more heard than felt.")] = None,
    per_turn: Annotated[
        int | None, _to("1|2", "Times a turn of the shaft, where somebody knows.")
    ] = None,
    follows: Annotated[
        Follows | None, typer.Option(help="In another gear: same road speed, or same engine speed.")
    ] = None,
    only: Annotated[Only | None, typer.Option(help="What it takes to shake.")] = None,
    as_json: AsJson = False,
) -> None:
    """Say what a shake most likely is, whether this rig predicts it, and what would cure it."""
    from viewer.commands.vibration import run
    from viewer.vibration.asked import Asked

    words = (None if each is None else each.value for each in (when, feel, follows, only))
    told = dict(zip(("when", "feel", "follows", "only"), words, strict=True))
    asked = Asked(at=at, engine=engine, gear=gear, per_turn=per_turn, **cast("Any", told))
    raise typer.Exit(run(rig, asked, as_json))


@app.command()
def truck(rig: RigFile, as_json: AsJson = False) -> None:
    """Hold what was seen on the truck against what is computed, and its visits side by side."""
    from viewer.commands.truck import run

    raise typer.Exit(run(rig, as_json))


@app.command()
def look(
    rig: Annotated[
        Text, typer.Argument(metavar="[RIG]", help="Rig file, or demo:NAME for a demo rig.")
    ] = None,
    seen: Annotated[
        File, _to("F.toml", "Inspection to write or take up; beside the rig when left out.")
    ] = None,
    json_schema: Annotated[
        File, _to("F.json", "Write the JSON Schema of inspections for an editor.")
    ] = None,
    words: Annotated[
        File, _to("F.png", "Draw every word that can be answered, to look at on the bench.")
    ] = None,
    force: Force = False,
) -> None:
    """Ask for what is seen on a failed joint, the most telling first, and write it down."""
    from viewer.commands.look import run

    raise typer.Exit(run(rig, seen, json_schema, words, force))


@app.command()
def why(
    rig: RigFile,
    seen: Annotated[
        Text, _to("F.toml", "What is seen on the joint, as `look` asks for it; or demo:NAME.")
    ] = None,
    confirmed: Annotated[
        File, _to("F.toml", "Joints that your shop has settled, which shift the odds.")
    ] = None,
    as_json: AsJson = False,
    full: Annotated[bool, typer.Option("--full", help="Print everything.")] = False,
    picture: Picture = None,
    force: Force = False,
) -> None:
    """Say why a joint broke or wore: what was seen, held against what this rig computes."""
    from viewer.commands.why import run

    raise typer.Exit(run(rig, seen, confirmed, as_json, full, picture, force))


@app.command()
def window(
    rig: Annotated[
        Text,
        typer.Argument(metavar="[RIG]", help="Rig file, or demo:NAME; a demo rig when left out."),
    ] = None,
) -> None:
    """Open the 3D window: move the axle, see where it binds, change the rig."""
    from viewer.commands.window import run

    raise typer.Exit(run(rig))


def run(words: Sequence[str]) -> int:
    """Do what was typed; the exit code. Raises BindpointError for what a user can mend."""
    for word in words:
        if not word.isprintable() and len(f"{word}.".splitlines()) > 1:
            raise AskedError(f'came "{word}", which has a line break, expected plain words')
    command = get_command(app)
    try:
        with command.make_context("bindpoint", list(words) or ["--help"]) as context:
            command.invoke(context)
    except typer.Exit as ended:
        return ended.exit_code if words else BAD_INPUT
    except typer.Abort:
        raise KeyboardInterrupt from None
    except UsageError as error:
        said = " ".join(str(cast("Any", error).format_message()).split())
        raise AskedError(f"{said.rstrip('.')}; --help tells what there is") from None
    return CLEAR
