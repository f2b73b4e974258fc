import { linearAxis } from "./axis.ts";
import { band } from "./band.ts";
import { along, type Box, bottomOf, rightOf } from "./box.ts";
import { element, group } from "./element.ts";
import { ELLIPSE_FACTOR, ellipsePoints, enlargement, outline, type PlaneCovariance } from "./ellipse.ts";
import type { DrawingElement, Figure } from "./figure.ts";
import { endsOf, type Interval, intervalText, percentText } from "./interval.ts";
import { intervalBar } from "./interval-bar.ts";
import { nameless, namesDrawn, placeNames } from "./label-placement.ts";
import { type LegendEntry, legend } from "./legend.ts";
import { type Mark, mark } from "./mark.ts";
import { fixed, plain, significant } from "./number-text.ts";
import { MARGIN, page, TOP, WIDTH } from "./page.ts";
import { panelGround, ROOM_FOR_X, roomForY } from "./panel.ts";
import type { Role } from "./role.ts";

/** What a condition of the separation is: used in the fit, or kept aside and with what outcome. */
export type PlaneStanding = "fit" | "passed" | "failed" | "inconclusive";

/** A condition in the plane of two channels. */
export interface PlanePoint {
  readonly name: string;
  readonly standing: PlaneStanding;
  /** Second channel. */
  readonly x: number;
  /** First channel. */
  readonly y: number;
  /** Of the two means; left out where it is not known. */
  readonly covariance?: PlaneCovariance;
  /** Corrected signal over its group's, less one; left out where nothing says what it should be. */
  readonly residual?: Interval;
  /** Length of fibre in the beam in mm, where it is stated. */
  readonly fibre_mm?: number;
}

/** A line of the fit: those with one dose share one. */
export interface PlaneLine {
  readonly intercept: number;
  readonly slope: number;
  /** Half the width of its 95 % band at places along x, from the left to the right; empty where it is not known. */
  readonly band: readonly { readonly x: number; readonly halfWidth: number }[];
}

/** What the figure of a separation is drawn from. */
export interface SeparationPlane {
  readonly id: string;
  readonly title: string;
  readonly channels: readonly [string, string];
  /** Unit of the signals as they are compared. */
  readonly unit: string;
  readonly stemRatio: Interval;
  readonly points: readonly PlanePoint[];
  readonly lines: readonly PlaneLine[];
  /** Largest residual that a verification may have, as a fraction. */
  readonly criterion: number;
}

const SIGNS: Readonly<Record<PlaneStanding, { mark: Mark; role: Role; text: string }>> = {
  fit: { mark: "disc", role: "ink", text: "fit condition" },
  passed: { mark: "ring", role: "ink", text: "kept aside, passed" },
  failed: { mark: "diamond", role: "attention", text: "kept aside, failed" },
  inconclusive: { mark: "open-square", role: "ink", text: "kept aside, inconclusive" },
};

const PLANE_HEIGHT = 290;
const RESIDUAL_HEIGHT = 120;
const BETWEEN = 26;
/** An ellipse may reach this far from its centre on the page: the margins of the axes. */
const ELLIPSE_REACH = { x: 44, y: 30 };

/**
 * The first channel against the second: the line of the fit with its band, the conditions with their uncertainty
 * ellipses, and under it, over the same axis, what each condition is off.
 */
export function separationPlane(given: SeparationPlane): Figure {
  const { id, title, channels, unit, points, lines, criterion } = given;
  const [first, second] = channels;
  const residuals = points.flatMap((point) => (point.residual ? [{ ...point, residual: point.residual }] : []));
  const percent = residuals.flatMap(({ residual }) => endsOf(residual).map((end) => end * 100));
  const ofOneLine = lines.length === 1 ? lines[0]! : undefined;
  const bandPercent = (ofOneLine?.band ?? []).flatMap(({ halfWidth }) => {
    const half = (100 * halfWidth) / ofOneLine!.intercept;
    return [-half, half];
  });
  const bottom = TOP + PLANE_HEIGHT;
  const y = linearAxis({
    name: `net signal, ${first} (${unit})`,
    values: [...points.map((point) => point.y), ...lines.map(({ intercept }) => intercept)],
    from: bottom,
    to: TOP,
    margin: 0.14,
  });
  const deviation = linearAxis({
    name: "off its group (%)",
    values: [...percent, ...bandPercent, -100 * criterion, 100 * criterion],
    from: bottom + BETWEEN + RESIDUAL_HEIGHT,
    to: bottom + BETWEEN,
    margin: 0.12,
  });
  const left = MARGIN + Math.max(roomForY(y), roomForY(deviation));
  const x = linearAxis({
    name: `net signal, ${second} (${unit})`,
    values: [0, ...points.map((point) => point.x)],
    from: left,
    to: WIDTH - MARGIN,
    margin: 0.1,
    start: 0,
  });
  const plane: Box = { left, top: TOP, width: WIDTH - MARGIN - left, height: PLANE_HEIGHT };
  const below: Box = { ...plane, top: bottom + BETWEEN, height: RESIDUAL_HEIGHT };
  const roles = { x: "channel-2", y: "channel-1" } as const;

  const spans = lines.map(({ intercept, slope }) =>
    x.domain.map((at): [number, number] => [x.at(at), y.at(intercept + slope * at)]),
  );
  const perUnit = { x: Math.abs(x.at(1) - x.at(0)), y: Math.abs(y.at(1) - y.at(0)) };
  const reach = Math.max(0, ...points.map(({ covariance }) => (covariance ? reachOf(covariance, perUnit) : 0)));
  const factor = reach > 0 ? enlargement(reach, 1) : undefined;
  const ellipses = points.flatMap((point) =>
    factor && point.covariance
      ? [
          ellipsePoints(point.covariance, ELLIPSE_FACTOR * factor).map(([dx, dy]): [number, number] => [
            x.at(point.x + dx),
            y.at(point.y + dy),
          ]),
        ]
      : [],
  );
  const names = placeNames(
    points.map((point) => ({ x: x.at(point.x), y: y.at(point.y), text: nameOf(point) })),
    plane,
    [...spans.flatMap((span) => along(span)), ...ellipses.flatMap((points) => along(points))],
  );
  const hasBand = lines.some((line) => line.band.length > 1);
  const entries = entriesOf(given, factor, hasBand);
  const key = legend(MARGIN, bottomOf(below) + ROOM_FOR_X + 8, WIDTH - 2 * MARGIN, entries);

  return page(
    {
      id,
      title,
      description: words(given),
      end: bottomOf(below) + ROOM_FOR_X + 8 + key.height,
      notes: [nameless(names)],
    },
    [
      ...panelGround({ box: plane, x, y, namesX: false, roles }),
      ...lines.flatMap(({ intercept, slope, band: places }) =>
        places.length > 1
          ? band(
              places.map(({ x: at, halfWidth }) => ({
                x: x.at(at),
                low: y.at(intercept + slope * at - halfWidth),
                high: y.at(intercept + slope * at + halfWidth),
              })),
            )
          : [],
      ),
      ...spans.map(([from, to]) => straight(from!, to!)),
      ...ellipses.map(outline),
      ...points.map((point) => signOf(point, x.at(point.x), y.at(point.y), unit)),
      ...namesDrawn(names),
      ...panelGround({ box: below, x, y: deviation, level: 0, roles: { x: "channel-2" } }),
      ...(ofOneLine && ofOneLine.band.length > 1
        ? band(
            ofOneLine.band.map(({ x: at, halfWidth }) => ({
              x: x.at(at),
              low: deviation.at((-100 * halfWidth) / ofOneLine.intercept),
              high: deviation.at((100 * halfWidth) / ofOneLine.intercept),
            })),
          )
        : []),
      ...[-1, 1].flatMap((side) => limit(below, deviation.at(100 * side * criterion))),
      ...residuals.flatMap((point) => {
        const [low, high] = endsOf(point.residual).map((end) => deviation.at(100 * end)) as [number, number];
        return [
          ...(point.residual.U ? [intervalBar(x.at(point.x), low, high, SIGNS[point.standing].role)] : []),
          signOf(point, x.at(point.x), deviation.at(100 * point.residual.value), unit),
        ];
      }),
      ...key.drawn,
    ],
  );
}

/** How far an ellipse at its own size reaches from its centre on the page, over how far it may. */
function reachOf({ xx, yy }: PlaneCovariance, perUnit: { readonly x: number; readonly y: number }): number {
  const { x, y } = ELLIPSE_REACH;
  return ELLIPSE_FACTOR * Math.max((Math.sqrt(xx) * perUnit.x) / x, (Math.sqrt(yy) * perUnit.y) / y);
}

function straight([x1, y1]: [number, number], [x2, y2]: [number, number]): DrawingElement {
  return element("line", { x1, y1, x2, y2, stroke: "ink", "stroke-width": 1.4 });
}

function limit(box: Box, y: number): DrawingElement[] {
  return [
    element("line", {
      x1: box.left,
      x2: rightOf(box),
      y1: y,
      y2: y,
      stroke: "attention",
      "stroke-width": 1,
      "stroke-dasharray": "8 4",
    }),
  ];
}

function signOf(point: PlanePoint, x: number, y: number, unit: string): DrawingElement {
  const { mark: kind, role, text } = SIGNS[point.standing];
  const off = point.residual ? `, off its group ${percentText(point.residual)}` : "";
  return group(
    [mark(x, y, kind, role)],
    `${point.name} (${text}): ${significant(point.y, 5)} against ${significant(point.x, 5)} ${unit}${off}`,
  );
}

const nameOf = ({ name, fibre_mm }: PlanePoint) => (fibre_mm === undefined ? name : `${name} · ${plain(fibre_mm)} mm`);

function entriesOf(
  { points, criterion }: SeparationPlane,
  factor: number | undefined,
  hasBand: boolean,
): LegendEntry[] {
  const standings = (Object.keys(SIGNS) as PlaneStanding[]).filter((standing) =>
    points.some((point) => point.standing === standing),
  );
  return [
    ...standings.map((standing) => ({ sign: SIGNS[standing], text: SIGNS[standing].text })),
    { sign: "line", text: "line of the fit" },
    ...(hasBand ? [{ sign: "band", text: "95 % band of the fit" } as const] : []),
    ...(factor
      ? [
          {
            sign: "ellipse",
            text: `95 % ellipse of the means${factor > 1 ? `, enlarged ${factor} times` : ""}`,
          } as const,
        ]
      : []),
    ...(points.some(({ residual }) => residual?.U) ? [{ sign: "interval", text: "95 % interval" } as const] : []),
    { sign: "dashed", role: "attention", text: `criterion ±${fixed(100 * criterion, 1)} %` },
  ];
}

function words({ channels, unit, stemRatio, points, lines, criterion }: SeparationPlane): string {
  const [first, second] = channels;
  const fit = points.filter(({ standing }) => standing === "fit");
  const aside = points.filter(({ standing }) => standing !== "fit");
  const each = aside.map(
    (point) => `${point.name} ${point.residual ? percentText(point.residual) : "without a dose"} (${point.standing})`,
  );
  return [
    `Net signal of ${first} against ${second} in ${unit}: ${lines.length === 1 ? "a line" : `${lines.length} parallel lines`} with the stem ratio ${intervalText(stemRatio)} as slope, through ${fit.length} fit conditions (${fit.map(({ name }) => name).join(", ")}).`,
    aside.length === 0
      ? "No condition was kept aside to test it."
      : `Kept aside, each with what it is off its group: ${each.join("; ")}; the criterion is ${fixed(100 * criterion, 1)} %.`,
    "Intervals cover 95 %.",
  ].join(" ");
}
