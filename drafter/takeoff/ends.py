"""The ends that wait for tube: sockets of fittings and devices, with the reducers and unions put into them."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from drafter.geometry import Point3
from drafter.layout.graph import Run
from drafter.sizing.network import Network
from drafter.sizing.unions import Union, union_reason
from drafter.standards.materials import Material, TubeSize
from drafter.takeoff.part import FITTINGS, Joint, Part, Port, TubeBend
from drafter.takeoff.tees import way_out


@dataclass
class Ends:
    """Parts and joints so far. ``ends`` holds, for each node and run, the free port that waits there."""

    network: Network
    parts: list[Part] = field(default_factory=list)
    joints: list[Joint] = field(default_factory=list)
    ends: dict[tuple[str, str], tuple[str, int]] = field(default_factory=dict)
    allowance_m: dict[tuple[str, str], float] = field(default_factory=dict)
    unions: list[Union] = field(default_factory=list)

    @property
    def family(self) -> Material:
        return self.network.material

    def thread(self, size: str) -> str:
        """A thread of the site's standard, as the trade writes it."""
        standard = self.network.layout.site.threads
        return f"G {size}" if standard == "G" else f"{size} NPT"

    def sized(self, *names: str) -> str:
        """Several sizes in one, as the trade writes them: ``1 x 1 x 1/2``, or ``22 x 2 / 15 x 1.5``."""
        return (" x " if self.family.inch_sized else " / ").join(names)

    @property
    def threaded(self) -> bool:
        return self.family.joins_by == "thread"

    @property
    def stuff(self) -> str:
        """What is joined, as the trade says: pipe is threaded, tube is not."""
        return "pipe" if self.threaded else "tube"

    def plain(self, size: str, key: str = "", way: Point3 | None = None, reach_m: float = 0.0) -> Port:
        """An end of tube, or of what goes into a fitting as tube does."""
        return Port("male" if self.threaded else "tube", size, key, way, reach_m)

    def socket(self, size: str, key: str = "", way: Point3 | None = None, reach_m: float = 0.0) -> Port:
        """An end that takes a tube."""
        return Port("female" if self.threaded else "socket", size, key, way, reach_m)

    def add(
        self, group: str, item: str, size: str, ports: tuple[Port, ...], tag: str = "", cut_m: float = 0.0,
        stands: bool = False, ends_turn: bool = False, bends: tuple[TubeBend, ...] = (), made_for: str = "",
        serves: str = "",
    ) -> str:  # fmt: skip
        id = f"{len(self.parts) + 1}"
        self.parts.append(Part(id, group, item, size, ports, tag, cut_m, stands, ends_turn, bends, made_for, serves))
        return id

    def join(self, first: tuple[str, int], second: tuple[str, int]) -> None:
        self.joints.append(Joint(first, second))

    def _size(self, run: Run) -> TubeSize:
        return self.network.sizes[run.id]

    def _end(
        self, node_id: str, run: Run, port: tuple[str, int], centre_to_face_m: float, of_part_m: float | None = None
    ) -> None:
        """Note the socket that waits at a node for a run's tube; a run of another size gets a reducer, some a union.

        Args:
            centre_to_face_m: from the node to the face of the socket.
            of_part_m: from the centre of the part to the face of its socket, where that is not the node.
        """
        size, waiting = self._size(run), self._port(port)
        reach_m = centre_to_face_m if of_part_m is None else of_part_m
        way = self._way(node_id, run)
        self._place(port, f"{node_id} {run.id}", way, reach_m - self._insertion_m(waiting.size))
        if waiting.size != size.name:
            names = sorted((waiting.size, size.name), key=self._outside, reverse=True)
            length = size.coupling_length_m / 2
            port = self._put_on(port, way, "reducer, plug-in", self.sized(*names), size, length)
            centre_to_face_m += length
        if self.threaded and (why := self._union_reason(node_id, run)):
            port = self._put_on(port, way, "union, male to female", size.name, size, size.union_length_m, True)
            self._note_union(node_id, run, centre_to_face_m + size.union_length_m / 2, why)
            centre_to_face_m += size.union_length_m
        self.ends[node_id, run.id] = port
        self.allowance_m[node_id, run.id] = centre_to_face_m

    def _put_on(
        self, port: tuple[str, int], way: Point3, item: str, title: str, size: TubeSize, length_m: float,
        ends_turn: bool = False,
    ) -> tuple[str, int]:  # fmt: skip
        """Put a part into a waiting socket that has a socket of its own so far before it; return that one."""
        waiting = self._port(port)
        key = f"{waiting.key} {item}"
        ends = (
            self.plain(waiting.size, waiting.key, back(way), self._insertion_m(waiting.size)),
            self.socket(size.name, key, way, length_m - size.insertion_m),
        )
        part = self.add(FITTINGS, item, title, ends, ends_turn=ends_turn)
        self.join(port, (part, 0))
        return part, 1

    def _union_reason(self, node_id: str, run: Run) -> str:
        layout = self.network.layout
        return union_reason(layout, self.family, layout.nodes[node_id], run)

    def _note_union(self, node_id: str, run: Run, from_node_m: float, why: str) -> None:
        layout = self.network.layout
        other = layout.nodes[run.end if run.start == node_id else run.start]
        at = layout.nodes[node_id].at.towards(other.at, from_node_m)
        self.unions.append(Union(node_id, run.id, self._size(run).name, at, why))

    def _way(self, node_id: str, run: Run) -> Point3:
        layout = self.network.layout
        return way_out(layout, layout.nodes[node_id], run)

    def _place(self, port: tuple[str, int], key: str, way: Point3 | None, reach_m: float = 0.0) -> None:
        """Give an end of a part its key, its way out and its reach."""
        number, index = int(port[0]) - 1, port[1]
        ports = list(self.parts[number].ports)
        ports[index] = replace(ports[index], key=key, way=way, reach_m=reach_m)
        self.parts[number] = replace(self.parts[number], ports=tuple(ports))

    def _screw(self, first: tuple[str, int], second: tuple[str, int], key: str, way: Point3, reach_m: float) -> None:
        """Join two device threads: the way leads out of the first, whose reach is given; the second's is nothing."""
        self._place(first, key, way, reach_m)
        self._place(second, key, back(way))
        self.join(first, second)

    def _insertion_m(self, name: str) -> float:
        size = self.family.find_size(name)
        assert size is not None
        return size.insertion_m

    def _port(self, port: tuple[str, int]) -> Port:
        return self.parts[int(port[0]) - 1].ports[port[1]]

    def _outside(self, name: str) -> float:
        size = self.family.find_size(name)
        return size.outside_m if size else 0.0


def back(way: Point3) -> Point3:
    return Point3(-way.x, -way.y, -way.z)
