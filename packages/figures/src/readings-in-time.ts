import { linearAxis } from "./axis.ts";
import { type Box, bottomOf } from "./box.ts";
import { element, group } from "./element.ts";
import type { DrawingElement, Figure } from "./figure.ts";
import { label, SMALL_SIZE } from "./label.ts";
import { legend } from "./legend.ts";
import { type Mark, mark } from "./mark.ts";
import { fixed, plain, signed, significant } from "./number-text.ts";
import { MARGIN, page, TOP, WIDTH } from "./page.ts";
import { panelGround, ROOM_FOR_X, roomForY } from "./panel.ts";
import type { Role } from "./role.ts";

/** A reading beside its repeats: each signal over the condition's mean, less one. */
export interface TimedReading {
  readonly name: string;
  /** Minutes since the condition's first reading; without times the place in the table, from 1. */
  readonly at: number;
  /** By signal, in the order of the signals. */
  readonly deviations: readonly number[];
  /** Why it was left out of the evaluation; absent where it counts. */
  readonly leftOut?: string;
}

/** What the figure of a condition's readings is drawn from. */
export interface ReadingsInTime {
  readonly id: string;
  readonly title: string;
  readonly timed: boolean;
  /** The means that deviations are taken from: the two channels, and what the separation makes of them. */
  readonly signals: readonly {
    readonly name: string;
    readonly role: Role;
    readonly mean: number;
    readonly unit: string;
    /** Relative standard deviation of a single reading; absent with a single one. */
    readonly spread?: number;
  }[];
  readonly readings: readonly TimedReading[];
}

/** Height of the strip of one signal. */
const HEIGHT = 84;
const BETWEEN = 24;
const MARKS: readonly Mark[] = ["open-square", "open-triangle", "disc", "open-diamond", "plus"];
/** A reading that is left out may widen the axis to so many times the spread of those that count, and no more. */
const WIDEN = 4;

/** The readings of a condition one after the other, as deviations from its mean: a strip for each signal, all alike. */
export function readingsInTime(given: ReadingsInTime): Figure {
  const { id, title, timed, signals, readings } = given;
  const counted = readings.filter(({ leftOut }) => leftOut === undefined);
  const own = counted.flatMap(({ deviations }) => deviations.map((deviation) => 100 * deviation));
  const reach = Math.max(0.05, ...own.map(Math.abs));
  const values = readings
    .flatMap(({ deviations }) => deviations.map((deviation) => 100 * deviation))
    .filter((value) => Math.abs(value) <= WIDEN * reach);
  const strips = signals.map((_, k) => {
    const top = TOP + 14 + k * (HEIGHT + BETWEEN);
    const y = linearAxis({
      name: "off mean (%)",
      values: [...values, -reach, reach],
      from: top + HEIGHT,
      to: top,
      margin: 0.14,
    });
    return { top, y };
  });
  const left = MARGIN + Math.max(...strips.map(({ y }) => roomForY(y)));
  const x = linearAxis({
    name: timed ? "minutes since the first reading" : "reading, in the order of the table",
    values: readings.map(({ at }) => at),
    from: left,
    to: WIDTH - MARGIN,
  });
  const axis = timed ? x : { ...x, ticks: x.ticks.filter(({ value }) => Number.isInteger(value)) };
  const last = signals.length - 1;
  const drawn = signals.flatMap((signal, k) => {
    const { top, y } = strips[k]!;
    const box: Box = { left, top, width: WIDTH - MARGIN - left, height: HEIGHT };
    return [
      ...panelGround({ box, x: axis, y, level: 0, namesX: k === last }),
      label(left, top - 6, headingOf(signal), { size: SMALL_SIZE, role: signal.role, room: box.width }),
      ...readings.map((reading) =>
        signOf(reading, signal, MARKS[k % MARKS.length]!, x.at(reading.at), 100 * reading.deviations[k]!, y, box),
      ),
    ];
  });
  const outside = readings.some(({ deviations }) =>
    deviations.some((deviation, k) => !inside(100 * deviation, strips[k]!.y.domain)),
  );
  const end = strips[last]!.top + HEIGHT + ROOM_FOR_X + 8;
  const key = legend(MARGIN, end, WIDTH - 2 * MARGIN, [
    ...(readings.length > counted.length ? [{ sign: { mark: "cross", role: "ink" }, text: "left out" } as const] : []),
    ...(outside ? [{ sign: { mark: "up", role: "attention" }, text: "left out, beyond the axis" } as const] : []),
  ]);
  return page(
    {
      id,
      title,
      description: words(given),
      end: end + key.height,
      notes: ["Each reading over the mean of those that count, less one, in percent."],
    },
    [...drawn, ...key.drawn],
  );
}

function headingOf({ name, mean, unit, spread }: ReadingsInTime["signals"][number]): string {
  const scatter = spread === undefined ? "" : `, standard deviation ${fixed(100 * spread, 3)} %`;
  return `${name}: mean ${significant(mean, 5)} ${unit}${scatter}`;
}

const inside = (value: number, [low, high]: readonly [number, number]) => value >= low && value <= high;

function signOf(
  { name, leftOut }: TimedReading,
  signal: ReadingsInTime["signals"][number],
  kind: Mark,
  x: number,
  percent: number,
  y: { readonly domain: readonly [number, number]; readonly at: (value: number) => number },
  box: Box,
): DrawingElement {
  const title = `${name}, ${signal.name}: ${signed(percent, 2)} %${leftOut === undefined ? "" : `, left out: ${leftOut}`}`;
  if (!inside(percent, y.domain))
    return group(
      [mark(x, percent > 0 ? box.top + 8 : bottomOf(box) - 8, percent > 0 ? "up" : "down", "attention")],
      title,
    );
  const at = y.at(percent);
  if (leftOut !== undefined) return group([mark(x, at, "cross", signal.role)], title);
  const stem = element("line", { x1: x, x2: x, y1: y.at(0), y2: at, stroke: signal.role, "stroke-width": 1 });
  return group([stem, mark(x, at, kind, signal.role)], title);
}

function words({ signals, readings, timed }: ReadingsInTime): string {
  const counted = readings.filter(({ leftOut }) => leftOut === undefined);
  const left = readings.filter(({ leftOut }) => leftOut !== undefined);
  const span = Math.max(...readings.map(({ at }) => at)) - Math.min(...readings.map(({ at }) => at));
  const each = signals.map(
    ({ name, mean, unit, spread }) =>
      `${name} ${significant(mean, 5)} ${unit}${spread === undefined ? "" : `, standard deviation ${fixed(100 * spread, 3)} %`}`,
  );
  const range = counted.flatMap(({ deviations }) => deviations);
  return [
    `${counted.length} readings${timed ? ` over ${plain(span, 3)} minutes` : ""}, each over its mean: ${each.join("; ")}.`,
    `Deviations from ${signed(100 * Math.min(...range), 2)} to ${signed(100 * Math.max(...range), 2)} %.`,
    ...left.map(
      ({ name, deviations, leftOut }) =>
        `${name} is left out (${leftOut}); it is off by ${deviations.map((d) => signed(100 * d, 2)).join(", ")} %.`,
    ),
  ].join(" ");
}
