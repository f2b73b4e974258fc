import { linearAxis } from "./axis.ts";
import { along, type Box, bottomOf } from "./box.ts";
import { element, group } from "./element.ts";
import type { DrawingElement, Figure } from "./figure.ts";
import { endsOf, type Interval, percentText } from "./interval.ts";
import { intervalBar } from "./interval-bar.ts";
import { nameless, namesDrawn, placeNames } from "./label-placement.ts";
import { legend } from "./legend.ts";
import { mark } from "./mark.ts";
import { plain } from "./number-text.ts";
import { MARGIN, page, TOP, WIDTH } from "./page.ts";
import { panelGround, ROOM_FOR_X, roomForY } from "./panel.ts";
import { pathLine } from "./path-line.ts";

/** The reference at some moment, over its first visit, less one. */
export interface ReferenceMoment {
  readonly name: string;
  /** Minutes since the first visit; where nobody wrote times down, the place in the order of visits. */
  readonly at: number;
  readonly move: Interval;
}

/** What the figure of the reference is drawn from. */
export interface ReferenceDrift {
  readonly id: string;
  readonly title: string;
  readonly timed: boolean;
  /** At least two. */
  readonly visits: readonly ReferenceMoment[];
  /** What each field was divided by; empty without times. */
  readonly fields: readonly ReferenceMoment[];
  /** The largest move over the series, as a fraction. */
  readonly largest: Interval;
}

const HEIGHT = 240;

/** The reference field over the series: its visits, and what the fields between them were divided by. */
export function referenceDrift(given: ReferenceDrift): Figure {
  const { id, title, timed, visits, fields } = given;
  const all = [...visits, ...fields];
  const bottom = TOP + HEIGHT;
  const y = linearAxis({
    name: "moved since first visit (%)",
    values: [0, ...all.flatMap(({ move }) => endsOf(move).map((end) => 100 * end))],
    from: bottom,
    to: TOP,
    least: 0.2,
    margin: 0.16,
  });
  const left = MARGIN + roomForY(y);
  const x = linearAxis({
    name: timed ? "minutes since the first visit" : "visit",
    values: all.map(({ at }) => at),
    from: left,
    to: WIDTH - MARGIN,
  });
  const axis = timed ? x : { ...x, ticks: visits.map(({ at }) => ({ value: at, text: plain(at) })) };
  const box: Box = { left, top: TOP, width: WIDTH - MARGIN - left, height: HEIGHT };
  const place = ({ at, move }: ReferenceMoment): [number, number] => [x.at(at), y.at(100 * move.value)];
  const bars = all.map((moment) => intervalOf(moment, x.at, y.at, visits.includes(moment)));
  const names = placeNames(
    all.map((moment) => ({
      x: place(moment)[0],
      y: place(moment)[1],
      text: moment.name,
      bar: y.at(0) - y.at(100 * (moment.move.U ?? 0)),
    })),
    box,
    [
      ...all.map((moment) => {
        const [low, high] = endsOf(moment.move);
        const [top, end] = [y.at(100 * high), y.at(100 * low)];
        return { left: place(moment)[0] - 5, top, width: 10, height: end - top };
      }),
      ...along(visits.map(place)),
      { left, top: y.at(0) - 1, width: box.width, height: 2 },
    ],
  );
  const end = bottomOf(box) + ROOM_FOR_X + 8;
  const key = legend(MARGIN, end, WIDTH - 2 * MARGIN, [
    { sign: { mark: "square" }, text: "visit to the reference field" },
    ...(fields.length > 0
      ? [{ sign: { mark: "ring", role: "muted" }, text: "reference at the time of a field" } as const]
      : []),
    ...(all.some(({ move }) => move.U) ? [{ sign: "interval", text: "95 % interval" } as const] : []),
  ]);
  return page({ id, title, description: words(given), end: end + key.height, notes: [nameless(names)] }, [
    ...panelGround({ box, x: axis, y, level: 0 }),
    element("path", {
      d: pathLine(visits.map(place)),
      fill: "none",
      stroke: "muted",
      "stroke-width": 1.2,
      "stroke-dasharray": timed ? undefined : "2 4",
    }),
    ...bars.flat(),
    ...fields.map((moment) => sign(moment, place(moment), false)),
    ...visits.map((moment) => sign(moment, place(moment), true)),
    ...namesDrawn(names),
    ...key.drawn,
  ]);
}

function intervalOf(
  { at, move }: ReferenceMoment,
  x: (value: number) => number,
  y: (value: number) => number,
  visit: boolean,
): DrawingElement[] {
  if (!move.U) return [];
  const [low, high] = endsOf(move);
  return [intervalBar(x(at), y(100 * low), y(100 * high), visit ? "ink" : "muted", visit ? 4 : 2.5)];
}

function sign(moment: ReferenceMoment, [x, y]: [number, number], visit: boolean): DrawingElement {
  return group(
    [visit ? mark(x, y, "square") : mark(x, y, "ring", "muted")],
    `${moment.name}: ${percentText(moment.move)}`,
  );
}

function words({ visits, fields, largest, timed }: ReferenceDrift): string {
  const first = visits[0]!.at;
  const each = visits
    .slice(1)
    .map(({ name, at, move }) => `${name}${timed ? ` after ${plain(at - first, 3)} min` : ""} ${percentText(move)}`);
  return [
    `The reference field over the series, ${visits.length} visits, against the first: ${each.join("; ")}.`,
    `Its largest move is ${percentText(largest)}.`,
    ...(fields.length > 0
      ? [`${fields.length} fields between them are divided by the line between the visits before and after.`]
      : []),
    "Intervals cover 95 %.",
  ].join(" ");
}
