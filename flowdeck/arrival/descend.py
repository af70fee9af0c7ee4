"""The path from the threshold backward: where to begin the descent, where to slow down, where to put out flap and gear.

The law, outward from the threshold:
- the altitude rises on the final path as far as the final fix, beyond it with the descent's gradient, less of it
  while the aeroplane slows down, and stays level wherever a fix still ahead allows no more;
- the speed is the approach speed up to the gate, then grows by the deceleration of each configuration to the speed at
  which that configuration was entered, and waits there until its latest place is behind;
- clean, it grows to what descent, Mach, the limit below an altitude and the fixes ahead allow.

So it is the latest possible arrival, flown with idle thrust wherever it slows or descends. Integrated over
distance by Runge and Kutta's method of fourth order in steps of at most `STEP_NM`, each stretch ending exactly
where its law changes. Source of the law: common practice, no source.
"""

from collections.abc import Callable
from typing import NamedTuple, TypeAlias

from msgspec import Struct

from flowdeck.arrival.air import Air
from flowdeck.arrival.bounds import OutOfRange
from flowdeck.arrival.descent import gradient_ft_per_nm
from flowdeck.arrival.performance import Descent, Step
from flowdeck.arrival.procedure import Fix
from flowdeck.arrival.profile import Leg, Point, Profile, Speed, Vertical
from flowdeck.arrival.steps import events_of

STEP_NM = 1.0
FARTHEST_NM = 400.0
_TINY = 1e-9
_ANY_KT = 999.0


class Task(Struct, frozen=True, kw_only=True):
    """What is asked of the path. Altitudes ft, distances NM, tracks true.

    *threshold_ft*: over the threshold, crossing height included. *stable_ft*: altitude from which the approach speed
    is held. *cruise_ft*: where the descent begins. *fixes* in any order; *final_nm*: distance of the final fix.
    """

    threshold_ft: float
    angle_deg: float
    final_nm: float
    stable_ft: float
    cruise_ft: float
    approach_kt: float
    course_deg: float
    fixes: tuple[Fix, ...]
    tracks: tuple[tuple[float, float], ...] = ()
    steps: tuple[Step, ...]
    descent: Descent
    limit_kt: float
    limit_ft: float


class Slopes(NamedTuple):
    """Change per NM outward: altitude ft, speed kt, seconds."""

    altitude: float
    speed: float
    seconds: float


Law: TypeAlias = tuple[Vertical, int, Speed, float]
"""How a leg is flown: vertical, number of the step, speed, track."""


def slopes(task: Task, air: Air, leg: Law, altitude_ft: float, speed_kt: float) -> Slopes:
    """The law of a leg at one point of it. Outward, so that altitude and speed rise."""
    vertical, number, speed, track = leg
    cas = air.cas_of_mach(task.descent.mach, altitude_ft) if speed == "mach" else speed_kt
    tas = air.tas_kt(cas, altitude_ft)
    ground = air.ground_kt(tas, altitude_ft, track)
    seconds = 3600 / ground
    step = task.steps[number]
    slower = 0.0
    if speed == "slowing":
        slower = step.level_kt_s if vertical == "level" else step.descending_kt_s
    if vertical == "final":
        rise = gradient_ft_per_nm(task.angle_deg)
    else:
        rise = task.descent.gradient_ft_nm * tas / ground if vertical == "descent" else 0.0
        rise *= 1 - slower / step.level_kt_s  # the drag that slows down in level flight is shared
    slower *= seconds
    return Slopes(rise, slower, seconds)


def descend(task: Task, air: Air) -> Profile:
    """The latest path that keeps every limit. Raises `OutOfRange` when none is found within 400 NM."""
    return _Outward(task, air).run()


class _Outward:
    """One integration, from the threshold out to the top of descent."""

    def __init__(self, task: Task, air: Air) -> None:
        self.task = task
        self.air = air
        self.fixes = sorted(task.fixes, key=lambda fix: fix.distance_nm)
        self.tracks = sorted(task.tracks)
        self.here = Point(0.0, task.threshold_ft, task.approach_kt, 0.0)
        self.points = [self.here]
        self.legs: list[Leg] = []
        self.step = len(task.steps) - 1
        self._mach_ft: dict[float, float] = {}

    def run(self) -> Profile:
        while self.here.altitude_ft < self.task.cruise_ft - _TINY:
            if self.here.distance_nm >= FARTHEST_NM:
                raise OutOfRange(f"descent: no way up to {self.task.cruise_ft:.0f} ft within {FARTHEST_NM:.0f} NM")
            self._configure()
            self._stretch()
        legs = tuple(reversed(self.legs))
        return Profile(points=tuple(self.points), legs=legs, events=events_of(legs, self.task.steps))

    def _ceiling_ft(self) -> float:
        """The most that the fixes still to be passed from here allow, and the cruise."""
        x = self.here.distance_nm + _TINY
        return min([self.task.cruise_ft, *(f.at_most_ft for f in self.fixes if f.at_most_ft and f.distance_nm > x)])

    def _fix_kt(self) -> float:
        """The most that fixes farther out allow: a speed holds from its fix inward."""
        x = self.here.distance_nm + _TINY
        return min([_ANY_KT, *(f.speed_kt for f in self.fixes if f.speed_kt and f.distance_nm > x)])

    def _fastest_kt(self) -> float:
        """The speed that the clean aeroplane grows to here."""
        limit = self.task.limit_kt if self.here.altitude_ft < self.task.limit_ft - _TINY else _ANY_KT
        return min(self.task.descent.speed_kt, limit)

    def _entered_kt(self) -> float:
        """The speed at which the present configuration was selected."""
        fastest = self._fastest_kt()
        return fastest if self.step == 0 else min(fastest, self.task.steps[self.step - 1].speed_kt or fastest)

    def _configure(self) -> None:
        """Take back every configuration that was selected here."""
        while self.step > 0:
            late = self.here.distance_nm < self.task.steps[self.step].by_nm - _TINY
            low = self.here.altitude_ft < self.task.stable_ft - _TINY
            if late or low or self.here.speed_kt < self._entered_kt() - _TINY:
                return
            self.step -= 1

    def _stretch(self) -> None:
        """Outward to where the law changes next."""
        task, here = self.task, self.here
        high, until = self._ceiling_ft(), min(self._entered_kt(), self._fix_kt())
        vertical: Vertical = "level"
        if here.altitude_ft < high - _TINY:
            vertical = "final" if here.distance_nm < task.final_nm - _TINY else "descent"
        speed: Speed = "steady"
        if here.altitude_ft >= task.stable_ft - _TINY and here.speed_kt < self._target(until, here) - _TINY:
            speed = "slowing"
        elif self.step == 0 and here.altitude_ft >= self._mach_holds_ft(here.speed_kt) - _TINY:
            speed = "mach"
        ends = [fix.distance_nm for fix in self.fixes] + [x for x, _ in self.tracks] + [task.final_nm]
        ends += [task.steps[self.step].by_nm] if self.step > 0 else []
        heights = [high, task.stable_ft, task.limit_ft, self._mach_holds_ft(here.speed_kt), *self.air.wind_heights_ft]
        self._go(
            (vertical, self.step, speed, self._track()),
            min([x for x in ends if x > here.distance_nm + _TINY], default=FARTHEST_NM),
            min([h for h in heights if h > here.altitude_ft + _TINY], default=task.cruise_ft),
            until,
        )

    def _target(self, until: float, p: Point) -> float:
        """The speed to grow to at *p*: never above the Mach number of the descent."""
        if p.altitude_ft < self._mach_holds_ft(until):
            return until
        return min(until, self.air.cas_of_mach(self.task.descent.mach, p.altitude_ft))

    def _mach_holds_ft(self, speed_kt: float) -> float:
        """Altitude (ft) from which a speed would be above the Mach number of the descent; above the cruise: never."""
        if speed_kt not in self._mach_ft:
            self._mach_ft[speed_kt] = _crossover(self.task, self.air, speed_kt)
        return self._mach_ft[speed_kt]

    def _go(self, leg: Law, x_end: float, h_end: float, v_end: float) -> None:
        """Outward until the first of a distance, an altitude and a speed."""
        start = self.here
        done = False
        while not done:
            step = min(STEP_NM, x_end - self.here.distance_nm)
            new = self._moved(leg, self.here, step)
            if new.altitude_ft >= h_end and leg[0] != "level":
                step = self._reach(leg, step, lambda p: p.altitude_ft - h_end)
                new = self._moved(leg, self.here, step)._replace(altitude_ft=h_end)
                done = True
            if leg[2] == "slowing" and new.speed_kt >= self._target(v_end, new):
                step = self._reach(leg, step, lambda p: p.speed_kt - self._target(v_end, p))
                new = self._moved(leg, self.here, step)
                new = new._replace(speed_kt=self._target(v_end, new))
                done = True
            self.here = new
            self.points.append(new)
            done = done or new.distance_nm >= x_end - _TINY
        vertical, number, speed, track = leg
        self.legs.append(Leg(far=self.here, near=start, vertical=vertical, step=number, speed=speed, track_deg=track))

    def _track(self) -> float:
        """The track flown here: that of the leg which leads to the next fix inward."""
        x = self.here.distance_nm + _TINY
        return next((track for at, track in reversed(self.tracks) if at <= x), self.task.course_deg)

    def _moved(self, leg: Law, p: Point, dx: float) -> Point:
        return moved(self.task, self.air, leg, p, dx)

    def _reach(self, leg: Law, step: float, missing: Callable[[Point], float]) -> float:
        """The part of a step after which nothing is missing, by regula falsi (Illinois)."""
        low, high = 0.0, step
        under, over = missing(self.here), missing(self._moved(leg, self.here, step))
        for _ in range(40):
            if over <= 0 or high - low < 1e-12:
                break
            part = high - over * (high - low) / (over - under)
            found = missing(self._moved(leg, self.here, part))
            if abs(found) < 1e-8:
                return part
            if found > 0:
                high, over, under = part, found, under / 2
            else:
                low, under, over = part, found, over / 2
        return high


def moved(task: Task, air: Air, leg: Law, p: Point, dx: float) -> Point:
    """The point *dx* NM outward of *p* (inward if negative) on a leg: one step of fourth order."""
    a = slopes(task, air, leg, p.altitude_ft, p.speed_kt)
    b = slopes(task, air, leg, p.altitude_ft + a.altitude * dx / 2, p.speed_kt + a.speed * dx / 2)
    c = slopes(task, air, leg, p.altitude_ft + b.altitude * dx / 2, p.speed_kt + b.speed * dx / 2)
    d = slopes(task, air, leg, p.altitude_ft + c.altitude * dx, p.speed_kt + c.speed * dx)
    altitude, speed, seconds = (dx / 6 * (i + 2 * j + 2 * k + m) for i, j, k, m in zip(a, b, c, d, strict=True))
    height = p.altitude_ft + altitude
    kt = air.cas_of_mach(task.descent.mach, height) if leg[2] == "mach" else p.speed_kt + speed
    return Point(p.distance_nm + dx, height, kt, p.seconds + seconds)


def _crossover(task: Task, air: Air, speed_kt: float) -> float:
    """Altitude (ft) at which a speed is the Mach number of the descent; just above the cruise when it is higher."""
    low, high = 0.0, task.cruise_ft + 1.0
    if air.cas_of_mach(task.descent.mach, high) >= speed_kt:
        return high
    for _ in range(40):
        middle = (low + high) / 2
        if air.cas_of_mach(task.descent.mach, middle) > speed_kt:
            low = middle
        else:
            high = middle
    return high
