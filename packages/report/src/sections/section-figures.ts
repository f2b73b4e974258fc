import type { Figure } from "@alcedo-dosimetry/figures";
import type { Material } from "./section-material.ts";

/** Drawings of what is set up at the machine; the others show results. */
export function isSetUpFigure({ id }: Figure): boolean {
  return id.startsWith("geometry");
}

/** Pictures of the readings of one condition: `readings.output-factors.cone-5`. */
const READINGS = /^readings\.[^.]+\.(.+)$/;

/** Figures that show results. Budgets are left to their tables, which have bars of their own. */
export function isResultFigure(figure: Figure): boolean {
  return !isSetUpFigure(figure) && !READINGS.test(figure.id) && !figure.id.startsWith("budget.");
}

/** Pictures of readings where there is something to be seen: a finding about the condition, or a reading left out. */
export function readingFigures({ figures, evaluation, interpretation }: Material): readonly Figure[] {
  const { background, separation, calibration, "output-factors": fields } = interpretation.series;
  const conspicuous = new Set([
    ...evaluation.result.findings.flatMap(({ where }) => where?.condition ?? []),
    ...[background, separation, calibration, fields].flatMap((series) =>
      (series?.excluded ?? []).flatMap(({ condition }) => condition ?? []),
    ),
  ]);
  return figures.filter(({ id }) => conspicuous.has(READINGS.exec(id)?.[1] ?? ""));
}
