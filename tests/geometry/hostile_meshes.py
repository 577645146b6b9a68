"""Mesh files that would eat a machine, or that are broken, made the same every time.

None is larger than a few MB. What is said of each is what it tries.
"""

from __future__ import annotations

import json
import struct
import zlib
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile

import numpy as np
import trimesh

from tests.geometry.scan_like import write
from tests.simple_shapes import box

BLOCK = box((1.0, 2.0, 3.0), (5.0, 8.0, 13.0), "block")
ENDINGS = (".stl", ".obj", ".ply", ".3mf", ".glb")


def glb(description: object, binary: bytes = b"") -> bytes:
    """A GLB file of a description and what its one buffer holds."""
    text = json.dumps(description).encode()
    return glb_of_text(text, binary)


def glb_of_text(text: bytes, binary: bytes = b"") -> bytes:
    text += b" " * (-len(text) % 4)
    binary += b"\0" * (-len(binary) % 4)
    chunks = struct.pack("<I", len(text)) + b"JSON" + text
    if binary:
        chunks += struct.pack("<I", len(binary)) + b"BIN\0" + binary
    return b"glTF" + struct.pack("<II", 2, 12 + len(chunks)) + chunks


def one_triangle(**more: object) -> tuple[dict[str, object], bytes]:
    """A description of one triangle, some of its tables replaced, and its numbers."""
    found: dict[str, object] = {
        "buffers": [{"byteLength": 36}],
        "bufferViews": [{"buffer": 0, "byteLength": 36}],
        "accessors": [{"bufferView": 0, "componentType": 5126, "type": "VEC3", "count": 3}],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}}]}],
        "nodes": [{"mesh": 0}],
        "scenes": [{"nodes": [0]}],
    }
    return found | more, struct.pack("<9f", 0, 0, 0, 1, 0, 0, 0, 1, 0)


def of_glb() -> Iterator[tuple[str, bytes]]:
    huge = {"componentType": 5126, "type": "VEC3", "count": 900_000_000}
    yield "numbers that are nowhere", glb(*one_triangle(accessors=[huge]))
    yield "numbers beyond the file", glb(*one_triangle(accessors=[huge | {"bufferView": 0}]))
    corners = {"componentType": 5125, "type": "SCALAR", "count": 3, "bufferView": 0}
    part = {"attributes": {"POSITION": 0}, "indices": 1}
    for count in (900_000_000, 2_900_000):
        yield (
            f"{count} points that are nowhere",
            glb(
                *one_triangle(
                    accessors=[huge | {"count": count}, corners], meshes=[{"primitives": [part]}]
                )
            ),
        )
    few = huge | {"count": 900_000, "bufferView": 0}
    yield (
        "numbers on top of each other",
        glb(
            *one_triangle(
                accessors=[few], bufferViews=[{"buffer": 0, "byteLength": 36, "byteStride": 0}]
            )
        ),
    )
    sparse = huge | {"count": 900_000, "sparse": {"count": 1}}
    yield "zeros that are not written out", glb(*one_triangle(accessors=[sparse]))
    chain = [{"children": [k + 1]} for k in range(9_000)]
    yield "a chain of nodes", glb(*one_triangle(nodes=[*chain, {"mesh": 0}]))
    chain = [{"children": [k + 1]} for k in range(150_000)]
    yield "a longer chain", glb(*one_triangle(nodes=[*chain, {"mesh": 0}]))
    yield "nodes in a ring", glb(*one_triangle(nodes=[{"children": [1]}, {"children": [0]}]))
    doubling = [{"children": [k + 1, k + 1]} for k in range(60)]
    yield "a tree that doubles", glb(*one_triangle(nodes=[*doubling, {"mesh": 0}]))
    yield "children by the million", glb(*one_triangle(nodes=[{"children": [0] * 1_000_000}]))
    part = {"attributes": {"POSITION": 0}}
    yield "parts by the ten thousand", glb(*one_triangle(meshes=[{"primitives": [part] * 90_000}]))
    binary = bytes(2_400_000)
    many = {
        "buffers": [{"byteLength": len(binary)}],
        "bufferViews": [{"buffer": 0, "byteLength": len(binary)}],
        "accessors": [
            {"bufferView": 0, "componentType": 5126, "type": "VEC3", "count": 200_000},
            {"bufferView": 0, "componentType": 5125, "type": "SCALAR", "count": 3},
        ],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
        "scenes": [{"nodes": [0] * 9_000}],
    }
    yield "many points at many places", glb(one_triangle(**many)[0], binary)
    for word in ("NaN", "1e999", "1" + "0" * 400):
        text = json.dumps(one_triangle(nodes=[{"mesh": 0, "scale": [7, 1, 1]}])[0])
        text = text.replace("[7,", f"[{word},")
        yield f"a scale of {word[:5]}", glb_of_text(text.encode(), one_triangle()[1])
    yield "brackets without an end", glb_of_text(b"[" * 1_000_000)
    yield "lists by the million", glb_of_text(b'{"nodes": [' + b"[]," * 1_500_000 + b"0]}")
    yield "digits without an end", glb_of_text(b'{"scene": ' + b"9" * 1_000_000 + b"}")
    yield "a length that lies", glb(*one_triangle())[:-44] + struct.pack("<I", 2**32 - 1) + b"BIN\0"
    for uri in ("beside.bin", "/dev/zero", "file:///dev/zero", "http://127.0.0.1:9/a"):
        there = [{"byteLength": 36, "uri": uri}]
        image = [{"uri": uri}]
        yield f"a buffer at {uri[:5]}", glb(*one_triangle(buffers=there, images=image))
    for key in ("buffers", "bufferViews", "accessors", "meshes", "nodes", "scenes"):
        for odd in (None, 7, {}, [7], [None], [[]], [{}], "words"):
            yield f"{key} that are {odd}", glb(*one_triangle(**{key: odd}))


def of_obj() -> Iterator[tuple[str, bytes]]:
    face = b"v 0 0 0\nv 1 0 0\nv 0 1 0\nf -3 -2 -1\n"
    yield "groups", b"".join(b"g group%d\n" % k + face for k in range(15_000))
    yield "materials", b"".join(b"usemtl m%d\n" % k + face for k in range(15_000))
    yield "objects", b"".join(b"o o%d\ns %d\n" % (k, k) + face for k in range(15_000))
    yield "a library", b"mtllib /dev/zero\nusemtl a\n" + face
    yield "a wide face", face + b"f" + b" 1 2 3" * 5_000 + b"\n"
    yield "a long number", face + b"f 1 2 " + b"9" * 90_000 + b"\n"
    yield "a long point", b"v 1 2 " + b"9" * 90_000 + b"\n" + face
    yield "a far point", face + b"f 1 2 99999999999\n"
    yield "a corner before the first", face + b"f -9 1 2\n"
    yield "lines that go on", b"f 1 \\\n" * 100_000 + face
    yield "bare ends", b"f\nv\n" * 100_000
    yield "empty lines", b"\n" * 2_000_000


def ply(form: str, lines: str, body: bytes) -> bytes:
    return f"ply\nformat {form} 1.0\n{lines}end_header\n".encode() + body


def of_ply() -> Iterator[tuple[str, bytes]]:
    points = "".join(f"property float {axis}\n" for axis in "xyz")
    listed = "property list uchar int vertex_indices\n"
    wide = "property list uint int vertex_indices\n"
    little = "binary_little_endian"
    for count in (2**31, 2**32 - 1, 999_999_999_999, 900_000):
        head = f"element vertex {count}\n{points}element face 1\n{listed}"
        yield f"{count} points", ply(little, head, bytes(1000))
        yield f"{count} points as text", ply("ascii", head, b"0 0 0\n" * 100)
        head = f"element vertex 3\n{points}element face {count}\n{listed}"
        yield f"{count} faces", ply(little, head, bytes(1_000_000))
        head = f"element other {count}\nproperty list uchar int a\nelement vertex 3\n{points}"
        yield f"{count} others", ply(little, f"{head}element face 1\n{listed}", bytes(1000))
    one = f"element vertex 3\n{points}element face 1\n"
    yield "a list beyond the file", ply(little, one + wide, bytes(36) + b"\xff" * 40)
    signed = "property list int int vertex_indices\n"
    yield "a list below nothing", ply(little, one + signed, bytes(36) + b"\xff" * 40)
    yield (
        "a list by halves",
        ply(
            little,
            one + "property list float int vertex_indices\n",
            bytes(36) + struct.pack("<f3i", np.nan, 0, 1, 2),
        ),
    )
    yield (
        "corners that are no numbers",
        ply(
            little,
            one + "property list uchar float vertex_indices\n",
            bytes(36) + b"\3" + b"\xff" * 12,
        ),
    )
    empty = "".join(f"element e{k} 0\nproperty float a\n" for k in range(2_000))
    yield "elements", ply(little, empty + one + listed, bytes(60))
    yield "properties", ply(little, "element a 1\n" + "property char b\n" * 3_900, bytes(60))
    yield "corners as text", ply("ascii", one + listed, b"0 0 0\n" * 3 + b"3 0 1\n")
    yield "a list as text", ply("ascii", one + listed, b"0 0 0\n" * 3 + b"99999999999 0 1\n")
    yield "a wide face as text", ply("ascii", one + wide, b"0 0 0\n" * 3 + b"9000" + b" 1" * 9000)


def of_stl() -> Iterator[tuple[str, bytes]]:
    for count in (2**32 - 1, 2**31, 900_000):
        yield f"{count} triangles", bytes(80) + struct.pack("<I", count) + bytes(500)
    corner = b"vertex 1 2 3\n"
    yield "one long word", b"solid\n" + corner * 100_000 + b"vertex 1 2 " + b"9" * 90_000 + b"\n"
    yield "words by the thousand", b"solid " + b"vertex " * 200_000
    yield "no line", b"solid" + b" " * 1_000_000


def threemf(model: str | bytes, also: int = 0) -> bytes:
    """A 3MF file of one model; `also` empty ones besides."""
    packed = BytesIO()
    with ZipFile(packed, "w", ZIP_DEFLATED) as file:
        file.writestr("3D/a.model", model)
        for k in range(also):
            file.writestr(f"3D/{k}.model", "<model/>")
    return packed.getvalue()


def of_3mf() -> Iterator[tuple[str, bytes]]:
    points = "".join(f'<vertex x="{x}" y="{y}" z="0"/>' for x, y in ((0, 0), (1, 0), (0, 1)))
    side = '<triangle v1="0" v2="1" v3="2"/>'
    body = f"<mesh><vertices>{points}</vertices><triangles>{side}</triangles></mesh>"
    item = '<build><item objectid="0"/></build>'
    yield "spaces", threemf(b"<model>" + b" " * 60_000_000)
    yield (
        "one long word",
        threemf(
            b'<model unit="'
            + np.random.default_rng(0).integers(97, 122, 5_000_000, dtype=np.uint8).tobytes()
        ),
    )
    doubled = "".join(
        f'<object id="{k}"><components><component objectid="{k + 1}"/>'
        f'<component objectid="{k + 1}"/></components></object>'
        for k in range(40)
    )
    last = f'<object id="40">{body}</object>'
    yield "objects that double", threemf(f"<model>{doubled}{last}{item}</model>")
    ring = '<object id="0"><components><component objectid="0"/></components></object>'
    yield "an object in itself", threemf(f"<model>{ring}{item}</model>")
    far = "".join(f'<object id="{k}"/>' for k in range(60_000))
    yield "objects", threemf(f"<model>{far}{item}</model>")
    placed = '<item objectid="0"/>' * 60_000
    yield "places", threemf(f'<model><object id="0">{body}</object>{placed}</model>')
    many = f'<object id="0"><mesh>{points * 30_000}{side}</mesh></object>'
    some = '<item objectid="0"/>' * 5_000
    yield "many points at many places", threemf(f"<model>{many}{some}</model>")
    yield "models", threemf(f'<model><object id="0">{body}</object>{item}</model>', 3_000)
    entity = '<!DOCTYPE m [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
    yield "entities", threemf(f"{entity}<model>&b;</model>")
    yield "a strange alphabet", threemf('<?xml version="1.0" encoding="x-none"?><model/>')
    yield "tags in tags", threemf("<model>" + "<a>" * 300_000)
    locked = bytearray(threemf("<model/>"))
    for at in (locked.find(b"PK\3\4") + 6, locked.find(b"PK\1\2") + 8):
        locked[at] |= 1
    yield "locked", bytes(locked)
    odd = bytearray(threemf("<model/>"))
    for at in (odd.find(b"PK\3\4") + 8, odd.find(b"PK\1\2") + 10):
        odd[at] = 98
    yield "packed oddly", bytes(odd)
    lying = bytearray(threemf(b" " * 3_000_000))
    at = lying.find(b"PK\1\2") + 24
    lying[at : at + 4] = struct.pack("<I", 900)
    yield "a size that lies", bytes(lying)
    for given in ('x="1"', 'x="a" y="0" z="0"', 'x="1e999" y="nan" z="0"'):
        yield f"a point {given}", threemf(f"<model><vertex {given}/></model>")
    for given in (
        'v1="0"',
        'v1="-1" v2="0" v3="0"',
        'v1="1e30" v2="0" v3="0"',
        'v1="9" v2="9" v3="9"',
    ):
        text = f'<model><object id="0">{points}<triangle {given}/></object>{item}</model>'
        yield f"a triangle {given}", threemf(text)


def damaged(folder: Path) -> Iterator[tuple[str, str, bytes]]:
    """A sound block in every format, cut short and with bits turned over."""
    text = trimesh.exchange.stl.export_stl_ascii(trimesh.Trimesh(BLOCK.vertices, BLOCK.faces))
    sound = [(ending, write(folder / f"sound{ending}", BLOCK).read_bytes()) for ending in ENDINGS]
    sound.append((".stl", text.encode()))
    for ending, data in sound:
        random = np.random.default_rng(zlib.crc32(data[:50]))
        for cut in np.linspace(0, len(data) - 1, 24).astype(int):
            yield ending, f"cut at {cut}", data[:cut]
        for k in range(40):
            turned = bytearray(data)
            for at in random.integers(0, len(data), 1 + k % 4):
                turned[at] ^= 1 << int(random.integers(8))
            yield ending, f"bits turned over, {k}", bytes(turned)


def write_all(folder: Path) -> dict[str, str]:
    """Write every file into a folder; return what each tries by its name."""
    made = {
        ".glb": of_glb,
        ".obj": of_obj,
        ".ply": of_ply,
        ".stl": of_stl,
        ".3mf": of_3mf,
    }
    all_ = [(ending, says, data) for ending, each in made.items() for says, data in each()]
    all_ += damaged(folder)
    told = {}
    for number, (ending, says, data) in enumerate(all_):
        name = f"{number:03d}{ending}"
        (folder / name).write_bytes(data)
        told[name] = says
    (folder / "beside.bin").write_bytes(one_triangle()[1])
    return told
