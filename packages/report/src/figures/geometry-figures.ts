import { type Campaign, interpretTables, outlineOf, type SeriesReadings } from "@alcedo-dosimetry/campaign";
import {
  conditionGeometry,
  type FieldOutline,
  type Figure,
  fieldGeometry,
  type GeometryCondition,
} from "@alcedo-dosimetry/figures";
import type { Drawable } from "./drawable.ts";

type Readings = NonNullable<Drawable["evaluated"]["typed"]["output-factors"]>["readings"];

/** What is set up: the conditions of the separation, and the fields of the output factors, each as one drawing. */
export function separationGeometry(drawable: Drawable): Figure | undefined {
  const conditions = separationConditions(drawable.evaluated.typed);
  return conditions.length === 0
    ? undefined
    : figure(drawable, "geometry.separation", "What was set up for the separation", conditions);
}

/** The fields of the output factors. */
export function outputFactorGeometry(drawable: Drawable): Figure | undefined {
  const conditions = outputFactorConditions(drawable.evaluated.typed);
  return conditions.length === 0
    ? undefined
    : figure(drawable, "geometry.output-factors", "The fields of the output factors", conditions);
}

/**
 * What is set up under one condition, alone and without words, from as much of the campaign as can be read: for whoever
 * stands at the machine. Undefined where the campaign says neither field nor fibre.
 */
export function conditionFigure(campaign: Campaign, series: string, condition: string): Figure | undefined {
  const outline = outlineOf(campaign.descriptor);
  if (!outline) return undefined;
  const { series: typed } = interpretTables(outline, campaign.tables);
  const known = series === "separation" ? separationConditions(typed) : outputFactorConditions(typed);
  const found = known.find(({ name }) => name === condition);
  const { activeVolume, axis } = campaign.descriptor.alcedo.detector;
  return (
    found &&
    conditionGeometry({
      id: `geometry.${series}.${condition}`,
      title: `What to set up for ${condition}`,
      condition: found,
      ...(activeVolume && axis && { volume: { ...activeVolume, axis } }),
    })
  );
}

function separationConditions(typed: SeriesReadings): GeometryCondition[] {
  const outputs = typed["output-factors"]?.readings ?? [];
  const conditions = firstOf(typed.separation?.readings ?? []).map(
    ({ condition, doseGroup, fibre_mm }): GeometryCondition => {
      // a dose group that bears the name of a measured field was measured in that field
      const field = outputs.find((reading) => reading.condition === doseGroup);
      return { name: condition, ...(field && outlines(field)), ...(fibre_mm !== undefined && { fibre_mm }) };
    },
  );
  // without a length of fibre and without a field there is nothing to draw
  return conditions.filter(({ nominal, fibre_mm }) => nominal !== undefined || fibre_mm !== undefined);
}

function outputFactorConditions(typed: SeriesReadings): GeometryCondition[] {
  return firstOf(typed["output-factors"]?.readings ?? []).map((reading): GeometryCondition => {
    const { condition, offset_x_mm, offset_y_mm } = reading;
    const offset = offset_x_mm !== undefined || offset_y_mm !== undefined;
    return {
      name: condition,
      ...outlines(reading),
      ...(offset && { offset_mm: [offset_x_mm ?? 0, offset_y_mm ?? 0] as const }),
    };
  });
}

function figure({ campaign }: Drawable, id: string, title: string, conditions: readonly GeometryCondition[]): Figure {
  const { activeVolume, axis } = campaign.descriptor.alcedo.detector;
  return fieldGeometry({ id, title, conditions, ...(activeVolume && axis && { volume: { ...activeVolume, axis } }) });
}

/** The first reading of each condition, in the order in which they stand. */
function firstOf<R extends { readonly condition: string }>(readings: readonly R[]): R[] {
  const seen = new Set<string>();
  return readings.filter(({ condition }) => !seen.has(condition) && seen.add(condition));
}

function outlines(reading: Readings[number]): { readonly nominal?: FieldOutline; readonly measured?: FieldOutline } {
  const { shape, x_mm, y_mm, diameter_mm, fwhm_x_mm, fwhm_y_mm } = reading;
  const [x, y] = shape === "circle" ? [diameter_mm, diameter_mm] : [x_mm, y_mm];
  return {
    ...(x !== undefined && y !== undefined && { nominal: { shape, x_mm: x, y_mm: y } }),
    ...(fwhm_x_mm !== undefined &&
      fwhm_y_mm !== undefined && { measured: { shape, x_mm: fwhm_x_mm, y_mm: fwhm_y_mm } }),
  };
}
