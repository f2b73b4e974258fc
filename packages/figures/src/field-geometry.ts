import { element, group } from "./element.ts";
import { type FibrePath, fibrePath } from "./fibre-path.ts";
import type { DrawingElement, Figure } from "./figure.ts";
import { label, SMALL_SIZE } from "./label.ts";
import { type LegendEntry, legend } from "./legend.ts";
import { plain } from "./number-text.ts";
import { MARGIN, page, TOP, WIDTH } from "./page.ts";
import { roundedPath } from "./rounded-path.ts";
import { scaleBar } from "./scale-bar.ts";

/** The outline of a field: widths along x (crossline) and y, equal for a circle. */
export interface FieldOutline {
  readonly shape: "rectangle" | "circle";
  readonly x_mm: number;
  readonly y_mm: number;
}

/** What is set up under one condition. */
export interface GeometryCondition {
  readonly name: string;
  /** As set; left out where the campaign does not say. */
  readonly nominal?: FieldOutline;
  /** As measured at depth. */
  readonly measured?: FieldOutline;
  /** Length of fibre in the beam, where it is stated. */
  readonly fibre_mm?: number;
  /** Measured distance of the tip from the field's centre. */
  readonly offset_mm?: readonly [number, number];
}

/** The cylinder that lights up. */
export interface DrawnVolume {
  readonly diameter_mm: number;
  readonly length_mm: number;
  readonly axis: "along-beam" | "across-beam";
}

/** What the drawing of the geometry is made from. */
export interface FieldGeometry {
  readonly id: string;
  readonly title: string;
  readonly conditions: readonly GeometryCondition[];
  readonly volume?: DrawnVolume;
}

const COLUMNS = 4;
const CELL = (WIDTH - 2 * MARGIN) / COLUMNS;
/** Largest extent of a field on the page. */
const EXTENT = 104;
/** Height of a cell without the lines of figures under it. */
const CELL_HEIGHT = 158;
const LINE = 14;
/** Beyond the field's edge the fibre goes on for so much of the page. */
const STUB = 9;
/** A volume that takes less of the page than this gets a ring about it, so that it can be found. */
const SMALL = 5;

/** Every condition as the source sees it, to scale: field, active volume, and how much fibre lies in the beam. */
export function fieldGeometry(given: FieldGeometry): Figure {
  const { id, title, conditions, volume } = given;
  const lines = Math.max(2, ...conditions.map((condition) => sizesOf(condition).length));
  const height = CELL_HEIGHT + lines * LINE;
  const cornerOf = (k: number) => [MARGIN + (k % COLUMNS) * CELL, TOP + Math.floor(k / COLUMNS) * height] as const;
  const cells = conditions.flatMap((condition, k) => conditionDrawn(condition, volume, ...cornerOf(k)));
  if (volume) cells.push(...volumeAlone(volume, ...cornerOf(conditions.length)));
  const rows = Math.ceil((conditions.length + (volume ? 1 : 0)) / COLUMNS);
  const end = TOP + rows * height;
  const key = legend(MARGIN, end, WIDTH - 2 * MARGIN, entriesOf(given));
  return page({ id, title, description: words(given), end: end + key.height, notes: notesOf(given) }, [
    ...cells,
    ...key.drawn,
  ]);
}

/** Height of one condition without words: the drawing and its bar. */
const ALONE_HEIGHT = EXTENT + 36;

/** One condition alone, drawing and scale bar, for a place where the words stand beside it. */
export function conditionGeometry(
  given: Omit<FieldGeometry, "conditions"> & { readonly condition: GeometryCondition },
): Figure {
  const { id, title, condition, volume } = given;
  return {
    id,
    title,
    description: words({ id, title, conditions: [condition], ...(volume && { volume }) }),
    width: CELL,
    height: ALONE_HEIGHT,
    root: group(conditionDrawing(condition, volume, 0, 0)),
  };
}

function conditionDrawn(
  condition: GeometryCondition,
  volume: DrawnVolume | undefined,
  left: number,
  top: number,
): DrawingElement[] {
  return [
    ...conditionDrawing(condition, volume, left, top),
    label(left + 4, top + EXTENT + 43, condition.name, { size: SMALL_SIZE, weight: "bold", room: CELL - 12 }),
    ...sizesOf(condition).map((line, k) =>
      label(left + 4, top + EXTENT + 58 + k * LINE, line, { size: 10, role: "muted", room: CELL - 6 }),
    ),
  ];
}

function conditionDrawing(
  condition: GeometryCondition,
  volume: DrawnVolume | undefined,
  left: number,
  top: number,
): DrawingElement[] {
  const { nominal, measured, fibre_mm, offset_mm = [0, 0] } = condition;
  const scale = scaleOf(condition);
  const [middleX, middleY] = [left + CELL / 2 - 4, top + 8 + EXTENT / 2];
  // without a field the fibre alone is drawn, from the top of the cell down
  const lift = nominal || measured ? 0 : EXTENT / 2;
  const place = (x: number, y: number): [number, number] => [middleX + x * scale, middleY - lift - y * scale];
  const tip = (x: number, y: number) => place(x + offset_mm[0], y + offset_mm[1]);
  const path = pathOf(condition, scale);
  const field = nominal ?? measured;
  return [
    ...(field ? [outlineDrawn(field, place, scale, false)] : []),
    ...(nominal && measured && differs(nominal, measured) ? [outlineDrawn(measured, place, scale, true)] : []),
    ...(field ? centreLines(field, place) : []),
    ...(path ? fibreDrawn(path, tip, scale, field !== undefined && fibre_mm! >= field.y_mm / 2) : []),
    ...(volume ? volumeDrawn(volume, tip(0, 0), scale) : []),
    ...scaleBar(left + 4, top + EXTENT + 24, scale, 48),
  ];
}

/** Page over mm. */
function scaleOf({ nominal, measured, fibre_mm }: GeometryCondition): number {
  const sizes = [nominal, measured].flatMap((field) => (field ? [field.x_mm, field.y_mm] : []));
  const largest = sizes.length > 0 ? Math.max(...sizes) : (fibre_mm ?? 1);
  return EXTENT / largest;
}

function pathOf({ nominal, measured, fibre_mm }: GeometryCondition, scale: number): FibrePath | undefined {
  if (fibre_mm === undefined) return undefined;
  const field = nominal ?? measured;
  if (!field) return fibrePath(fibre_mm, fibre_mm, 0, 1);
  const aside = field.shape === "circle" ? 0.3 * field.x_mm : 0.42 * field.x_mm;
  return fibrePath(fibre_mm, field.y_mm / 2, aside, 4.5 / scale);
}

/** Whether two outlines can be told apart on the page. */
function differs(a: FieldOutline, b: FieldOutline): boolean {
  const largest = Math.max(a.x_mm, a.y_mm);
  return Math.max(Math.abs(a.x_mm - b.x_mm), Math.abs(a.y_mm - b.y_mm)) / 2 > (1.5 / EXTENT) * largest;
}

function outlineDrawn(
  { shape, x_mm, y_mm }: FieldOutline,
  place: (x: number, y: number) => [number, number],
  scale: number,
  dashed: boolean,
): DrawingElement {
  const paint = dashed
    ? { fill: "none", stroke: "muted", "stroke-width": 1.2, "stroke-dasharray": "4 3" }
    : { fill: "grid", "fill-opacity": "0.35", stroke: "ink", "stroke-width": 1.4 };
  const [cx, cy] = place(0, 0);
  if (shape === "circle")
    return element("ellipse", { cx, cy, rx: (x_mm / 2) * scale, ry: (y_mm / 2) * scale, ...paint });
  const [x, y] = place(-x_mm / 2, y_mm / 2);
  return element("rect", { x, y, width: x_mm * scale, height: y_mm * scale, ...paint });
}

function centreLines({ x_mm, y_mm }: FieldOutline, place: (x: number, y: number) => [number, number]) {
  const line = ([x1, y1]: [number, number], [x2, y2]: [number, number]) =>
    element("line", { x1, y1, x2, y2, stroke: "muted", "stroke-width": 0.6, "stroke-dasharray": "1 3" });
  return [line(place(-x_mm / 2, 0), place(x_mm / 2, 0)), line(place(0, -y_mm / 2), place(0, y_mm / 2))];
}

function fibreDrawn(
  path: FibrePath,
  place: (x: number, y: number) => [number, number],
  scale: number,
  leaves: boolean,
): DrawingElement[] {
  const [x, y] = place(...(path.corners.at(-1)! as [number, number]));
  return [
    element("path", {
      d: roundedPath(path, place, scale),
      fill: "none",
      stroke: "muted",
      "stroke-width": 2.4,
    }),
    ...(leaves
      ? [
          element("line", {
            x1: x,
            x2: x,
            y1: y,
            y2: y + STUB,
            stroke: "muted",
            "stroke-width": 2.4,
            "stroke-dasharray": "3 2",
          }),
        ]
      : []),
  ];
}

/** The volume as the source sees it: a disc, or a rectangle that lies along x. */
function volumeDrawn({ diameter_mm, length_mm, axis }: DrawnVolume, [x, y]: [number, number], scale: number) {
  const width = (axis === "along-beam" ? diameter_mm : length_mm) * scale;
  const height = diameter_mm * scale;
  const paint = { fill: "ink", stroke: "paper", "stroke-width": 0.8 };
  const shape =
    axis === "along-beam"
      ? element("circle", { cx: x, cy: y, r: width / 2, ...paint })
      : element("rect", { x: x - width / 2, y: y - height / 2, width, height, ...paint });
  if (Math.max(width, height) >= SMALL) return [shape];
  return [shape, element("circle", { cx: x, cy: y, r: 5, fill: "none", stroke: "ink", "stroke-width": 1.2 })];
}

/** The volume by itself, large enough to be seen, with a bar of its own. */
function volumeAlone(volume: DrawnVolume, left: number, top: number): DrawingElement[] {
  const { diameter_mm, length_mm, axis } = volume;
  const scale = 60 / Math.max(diameter_mm, axis === "across-beam" ? length_mm : 0);
  const [x, y] = [left + CELL / 2 - 4, top + 8 + EXTENT / 2];
  return [
    ...volumeDrawn(volume, [x, y], scale),
    ...scaleBar(left + 4, top + EXTENT + 24, scale, 48),
    label(left + 4, top + EXTENT + 43, "active volume", { size: SMALL_SIZE, weight: "bold", room: CELL - 12 }),
    ...[
      `⌀ ${plain(diameter_mm)} × ${plain(length_mm)} mm long`,
      axis === "along-beam" ? "along the beam" : "across the beam, along x",
    ].map((line, k) =>
      label(left + 4, top + EXTENT + 58 + k * LINE, line, { size: 10, role: "muted", room: CELL - 6 }),
    ),
  ];
}

const size = ({ shape, x_mm, y_mm }: FieldOutline) =>
  shape === "circle" && x_mm === y_mm ? `⌀ ${plain(x_mm)} mm` : `${plain(x_mm)} × ${plain(y_mm)} mm`;

/** What stands under a drawing: sizes in figures, since a drawing is not measured with a ruler. */
function sizesOf({ nominal, measured, fibre_mm, offset_mm }: GeometryCondition): string[] {
  return [
    nominal ? size(nominal) : "field not stated",
    ...(measured ? [`FWHM ${size({ ...measured, shape: "rectangle" })}`] : []),
    ...(fibre_mm === undefined ? [] : [`fibre ${plain(fibre_mm)} mm`]),
    ...(offset_mm ? [`tip at ${plain(offset_mm[0], 3)}, ${plain(offset_mm[1], 3)} mm`] : []),
  ];
}

function entriesOf({ conditions, volume }: FieldGeometry): LegendEntry[] {
  const measured = conditions.some((one) => one.nominal && one.measured && differs(one.nominal, one.measured));
  const fibre = conditions.some((condition) => pathOf(condition, scaleOf(condition)));
  return [
    ...(conditions.some(({ nominal }) => nominal) ? [{ sign: "field", text: "field as set" } as const] : []),
    ...(measured
      ? [{ sign: "dashed", role: "muted", text: "width measured at depth, where it can be told apart" } as const]
      : []),
    ...(fibre ? [{ sign: "thick-line", role: "muted", text: "fibre in the beam" } as const] : []),
    ...(volume ? [{ sign: { mark: "disc" }, text: "active volume" } as const] : []),
  ];
}

function notesOf({ conditions }: FieldGeometry): string[] {
  const stated = conditions.filter(({ fibre_mm }) => fibre_mm !== undefined);
  const unfit = stated.filter((condition) => !pathOf(condition, scaleOf(condition)));
  return [
    "Seen from the source: x (crossline) to the right, y upwards. Each drawing has the scale of its bar.",
    ...(stated.length > 0
      ? ["Only the length of fibre in the beam is known, and it is to scale; how it lies is a stand-in."]
      : []),
    ...(unfit.length > 0
      ? [`Not drawn, since so much fibre has no room in the field: ${unfit.map(({ name }) => name).join(", ")}.`]
      : []),
  ];
}

function words(given: FieldGeometry): string {
  const { conditions, volume } = given;
  const each = conditions.map((condition) => `${condition.name}: ${sizesOf(condition).join(", ")}`);
  return [
    `${conditions.length === 1 ? "One condition as the source sees it" : `${conditions.length} conditions as the source sees them`}, to scale. ${each.join("; ")}.`,
    ...(volume
      ? [
          `Active volume: a cylinder of ${plain(volume.diameter_mm)} mm diameter and ${plain(volume.length_mm)} mm length, its axis ${volume.axis === "along-beam" ? "along" : "across"} the beam.`,
        ]
      : []),
    ...notesOf(given).slice(1),
  ].join(" ");
}
