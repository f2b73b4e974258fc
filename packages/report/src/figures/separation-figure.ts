import { covarianceOf, type Evaluated, propagate } from "@alcedo-dosimetry/campaign";
import { type Figure, type PlaneLine, type PlanePoint, separationPlane } from "@alcedo-dosimetry/figures";
import type { Drawable } from "./drawable.ts";
import { type Node, nodeInterval } from "./node-interval.ts";

type Separation = NonNullable<Evaluated["separation"]>;
type Condition = Separation["conditions"][number];

/** Places along a band: enough for its waist to look round. */
const PLACES = 40;

/** The plane of the two channels, where there are two. */
export function separationFigure({ campaign, evaluated }: Drawable): Figure | undefined {
  const { separation, channels, assumptions } = evaluated;
  const ratio = separation?.stemRatio;
  if (!separation || !ratio) return undefined;
  const { conditions } = separation;
  const { signalUnit } = campaign.descriptor.alcedo.detector;
  const perDose = conditions.filter(({ divisor }) => divisor === "dose").length;
  const mixed = perDose > 0 && perDose < conditions.length;
  // groups with and without a known dose have no unit in common: each is then taken over its own corrected signal
  const scaleOf = (expected: Node | undefined) => (mixed && expected ? 1 / expected.value : 1);
  const placed = mixed ? conditions.filter(({ expected }) => expected) : conditions;
  const points = placed.map((condition) => pointOf(evaluated, condition, scaleOf(condition.expected)));
  const right = Math.max(...points.map(({ x }) => x)) * 1.1;
  const intercepts = [...new Set(placed.flatMap(({ expected }) => expected ?? []))];
  return separationPlane({
    id: "separation",
    title: `Separation of ${channels.join(" and ")}`,
    channels: [channels[0]!, channels[1]!],
    unit: mixed ? "corrected signal of the group" : perDose > 0 ? `${signalUnit} per Gy` : signalUnit,
    stemRatio: nodeInterval(evaluated, ratio),
    points,
    lines: (mixed ? intercepts.slice(0, 1) : intercepts).map((intercept) =>
      lineOf(evaluated, intercept, ratio, right, scaleOf(intercept)),
    ),
    criterion: assumptions.values.separationResidual_percent / 100,
  });
}

function pointOf(evaluated: Evaluated, condition: Condition, scale: number): PlanePoint {
  const { model, verifications, series } = evaluated;
  const { name, normalised, residual, rows, role } = condition;
  const [first, second] = [normalised[0]!, normalised[1]!];
  const known = !propagate(model, first).typeAUnknown && !propagate(model, second).typeAUnknown;
  const [xx, xy, , yy] = covarianceOf(model, [second, first]);
  const lengths = new Set(
    rows.flatMap((row) => {
      const reading = series.separation!.readings[row]!;
      return reading.exclude === undefined ? [fibreOf(evaluated, reading.id)] : [];
    }),
  );
  const [fibre_mm] = lengths.size === 1 ? lengths : [];
  const verdict = verifications.find((verification) => verification.condition === condition)?.verdict;
  const squared = scale * scale;
  return {
    name,
    standing: role === "fit" ? "fit" : (verdict ?? "inconclusive"),
    x: second.value * scale,
    y: first.value * scale,
    ...(known && { covariance: { xx: xx! * squared, xy: xy! * squared, yy: yy! * squared } }),
    ...(residual && { residual: nodeInterval(evaluated, residual) }),
    ...(fibre_mm !== undefined && { fibre_mm }),
  };
}

function fibreOf({ typed }: Evaluated, id: string): number | undefined {
  return typed.separation?.readings.find((reading) => reading.id === id)?.fibre_mm;
}

/** The line q_1 = I + ρ·q_2 with its band, from the model's covariance of I and ρ and the coverage factor of ρ. */
function lineOf({ model }: Evaluated, intercept: Node, ratio: Node, right: number, scale: number): PlaneLine {
  const [vII, vIr, , vrr] = covarianceOf(model, [intercept, ratio]);
  const { k } = propagate(model, ratio);
  const places = Array.from({ length: PLACES + 1 }, (_, i) => (right * i) / PLACES);
  return {
    intercept: intercept.value * scale,
    slope: ratio.value,
    band: Number.isFinite(k)
      ? places.map((x) => {
          const at = x / scale;
          const variance = vII! + 2 * at * vIr! + at * at * vrr!;
          return { x, halfWidth: k * Math.sqrt(Math.max(0, variance)) * scale };
        })
      : [],
  };
}
