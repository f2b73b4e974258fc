import { linearAxis, logarithmicAxis } from "./axis.ts";
import { around, type Box, bottomOf, rightOf } from "./box.ts";
import { group } from "./element.ts";
import type { DrawingElement, Figure } from "./figure.ts";
import { endsOf, type Interval, intervalText, percentText } from "./interval.ts";
import { intervalBar } from "./interval-bar.ts";
import { nameless, namesDrawn, placeNames } from "./label-placement.ts";
import { type LegendEntry, legend } from "./legend.ts";
import { type Mark, mark } from "./mark.ts";
import { plain } from "./number-text.ts";
import { MARGIN, page, TOP, WIDTH } from "./page.ts";
import { panelGround, ROOM_FOR_X, roomForY } from "./panel.ts";

/** The output factor of a field. */
export interface OutputPoint {
  readonly name: string;
  readonly shape: "rectangle" | "circle";
  readonly equivalentSquare_mm: Interval;
  readonly outputFactor: Interval;
}

/** Output factors from elsewhere, and the measured ones against them. */
export interface OutputSet {
  readonly source: string;
  /** Those with a place on the axis. */
  readonly values: readonly { readonly name: string; readonly equivalentSquare_mm: number; readonly value: Interval }[];
  readonly differences: readonly {
    readonly name: string;
    readonly equivalentSquare_mm: number;
    /** Measured over the set's, less one. */
    readonly difference: Interval;
    /** False where the difference is larger than its own expanded uncertainty. */
    readonly agrees: boolean;
  }[];
}

/** What the figure of output factors is drawn from. */
export interface OutputFactorCurve {
  readonly id: string;
  readonly title: string;
  readonly points: readonly OutputPoint[];
  readonly sets: readonly OutputSet[];
}

const HEIGHT = 300;
const BELOW = 120;
const BETWEEN = 26;
const FIELD_MARK = { rectangle: "square", circle: "disc" } as const satisfies Record<string, Mark>;
const SET_MARKS: readonly Mark[] = ["open-diamond", "open-triangle", "plus", "star", "wye"];

/** Output factors against the equivalent square, both with intervals; sets to compare with, and under it how far apart. */
export function outputFactorCurve(given: OutputFactorCurve): Figure {
  const { id, title, points, sets } = given;
  const compared = sets.some(({ differences }) => differences.length > 0);
  const bottom = TOP + HEIGHT;
  const y = linearAxis({
    name: "field output factor",
    values: [...points.map((point) => point.outputFactor), ...sets.flatMap(valuesOf)].flatMap(endsOf),
    from: bottom,
    to: TOP,
  });
  const percent = sets.flatMap(({ differences }) => differences.flatMap(({ difference }) => endsOf(difference)));
  const difference = linearAxis({
    name: "difference (%)",
    values: [0, ...percent.map((end) => 100 * end)],
    from: bottom + BETWEEN + BELOW,
    to: bottom + BETWEEN,
    margin: 0.1,
    least: 0.5,
  });
  const left = MARGIN + Math.max(roomForY(y), compared ? roomForY(difference) : 0);
  const x = logarithmicAxis({
    name: "equivalent square field size (mm)",
    values: [
      ...points.flatMap(({ equivalentSquare_mm }) => positive(endsOf(equivalentSquare_mm), equivalentSquare_mm.value)),
      ...sets.flatMap(({ values }) => values.map(({ equivalentSquare_mm }) => equivalentSquare_mm)),
    ],
    from: left,
    to: WIDTH - MARGIN,
    margin: 0.05,
  });
  const box: Box = { left, top: TOP, width: WIDTH - MARGIN - left, height: HEIGHT };
  const under: Box = { ...box, top: bottom + BETWEEN, height: BELOW };
  const signs = points.map((point) => pointSign(point, x.at, y.at));
  const end = bottomOf(compared ? under : box) + ROOM_FOR_X + 8;
  const names = placeNames(
    points.map(({ name, equivalentSquare_mm, outputFactor }) => ({
      x: x.at(equivalentSquare_mm.value),
      y: y.at(outputFactor.value),
      text: name,
    })),
    box,
    [
      ...points.map(({ equivalentSquare_mm, outputFactor }) => {
        const [low, high] = endsOf(outputFactor);
        return around(
          x.at(equivalentSquare_mm.value),
          (y.at(low) + y.at(high)) / 2,
          5,
          (y.at(low) - y.at(high)) / 2 + 1,
        );
      }),
      ...sets.flatMap(({ values }) =>
        values.map(({ equivalentSquare_mm, value }) => around(x.at(equivalentSquare_mm), y.at(value.value), 7)),
      ),
    ],
  );
  const key = legend(MARGIN, end, WIDTH - 2 * MARGIN, entriesOf(given));
  const setMark = (k: number) => SET_MARKS[k % SET_MARKS.length]!;
  return page({ id, title, description: words(given), end: end + key.height, notes: [nameless(names)] }, [
    ...panelGround({ box, x, y, namesX: !compared }),
    ...sets.flatMap(({ values, source }, k) =>
      values.map(({ name, equivalentSquare_mm: at, value }) =>
        group(
          [...bars(x.at(at), value, y.at), mark(x.at(at), y.at(value.value), setMark(k), "muted")],
          `${source}, ${name}: ${intervalText(value)}`,
        ),
      ),
    ),
    ...signs,
    ...namesDrawn(names),
    ...(compared
      ? [
          ...panelGround({ box: under, x, y: difference, level: 0 }),
          ...sets.flatMap(({ differences, source }, k) =>
            differences.map(({ name, equivalentSquare_mm: at, difference: own, agrees }) => {
              // sources side by side, or their bars would lie on each other
              const shift = (k - (sets.length - 1) / 2) * 9;
              const role = agrees ? "ink" : "attention";
              const place = Math.min(Math.max(x.at(at) + shift, box.left), rightOf(box));
              return group(
                [
                  ...bars(place, { value: own.value * 100, U: own.U && own.U * 100 }, difference.at, role),
                  mark(place, difference.at(own.value * 100), setMark(k), role),
                  ...(agrees ? [] : [mark(place, under.top + 8, "down", "attention")]),
                ],
                `${name} against ${source}: ${percentText(own)}${agrees ? "" : ", more than its expanded uncertainty"}`,
              );
            }),
          ),
        ]
      : []),
    ...key.drawn,
  ]);
}

const valuesOf = ({ values }: OutputSet) => values.map(({ value }) => value);

/** The ends of an interval that a logarithmic axis has a place for. */
const positive = ([low, high]: [number, number], value: number) => [low > 0 ? low : value, high];

function bars(at: number, interval: Interval, y: (value: number) => number, role: "ink" | "attention" = "ink") {
  if (!interval.U) return [];
  const [low, high] = endsOf(interval);
  return [intervalBar(at, y(low), y(high), role)];
}

function pointSign(point: OutputPoint, x: (mm: number) => number, y: (value: number) => number): DrawingElement {
  const { name, shape, equivalentSquare_mm: size, outputFactor } = point;
  const at = x(size.value);
  return group(
    [...bars(at, outputFactor, y), mark(at, y(outputFactor.value), FIELD_MARK[shape])],
    `${name}: ${intervalText(outputFactor)} at ${intervalText(size)} mm`,
  );
}

function entriesOf({ points, sets }: OutputFactorCurve): LegendEntry[] {
  const shapes = (["rectangle", "circle"] as const).filter((shape) => points.some((point) => point.shape === shape));
  const known = points.some(({ outputFactor }) => outputFactor.U);
  const apart = sets.some(({ differences }) => differences.some(({ agrees }) => !agrees));
  return [
    ...shapes.map((shape) => ({
      sign: { mark: FIELD_MARK[shape] },
      text: shape === "rectangle" ? "rectangular field" : "circular field",
    })),
    ...(known ? [{ sign: "interval", text: "95 % interval" } as const] : []),
    ...sets.map(({ source }, k) => ({
      sign: { mark: SET_MARKS[k % SET_MARKS.length]!, role: "muted" as const },
      text: source,
    })),
    ...(apart
      ? [
          {
            sign: { mark: "down", role: "attention" },
            text: "differs by more than its expanded uncertainty",
          } as const,
        ]
      : []),
  ];
}

function words({ points, sets }: OutputFactorCurve): string {
  const each = points.map(
    ({ name, equivalentSquare_mm, outputFactor }) =>
      `${name} (${plain(equivalentSquare_mm.value, 3)} mm) ${intervalText(outputFactor)}`,
  );
  const against = sets.map(({ source, differences }) => {
    const own = differences.map(
      ({ name, difference, agrees }) => `${name} ${percentText(difference)}${agrees ? "" : " (outside)"}`,
    );
    return own.length === 0 ? `${source}: nothing to compare with.` : `Against ${source}: ${own.join("; ")}.`;
  });
  return [
    `Field output factor against equivalent square field size, ${points.length} fields: ${each.join("; ")}.`,
    ...against,
    "Intervals cover 95 %.",
  ].join(" ");
}
