import { propagate } from "@alcedo-dosimetry/metrology";
import { percent, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** A fall that matters, beside being beyond its uncertainty (proposed default). */
const LIMIT = 0.02;

/** Output factors that fall where the field grows. */
export const outputFactorOutOfLine: Rule = {
  code: "output-factor-out-of-line",
  level: "warning",
  sees: "a field at least 5 % larger than another with an output factor lower by more than 2 % and more than U",
  threshold: { value: LIMIT, unit: "1", source: "proposed default; output factors grow with field size" },
  check({ outputFactors, model }) {
    const fields = [...(outputFactors?.fields ?? [])].sort(
      (a, b) => a.size.equivalentSquare.value - b.size.equivalentSquare.value,
    );
    return fields.flatMap((larger, i) => {
      const smaller = fields[i - 1];
      if (!smaller || larger.size.equivalentSquare.value < 1.05 * smaller.size.equivalentSquare.value) return [];
      // most fields are in line: the model gets a node for the comparison only where one is not
      if (!(larger.outputFactor.value / smaller.outputFactor.value - 1 < -LIMIT)) return [];
      const { value, U } = propagate(model, larger.outputFactor.over(smaller.outputFactor).minus(1));
      if (Math.abs(value) <= U) return [];
      return [
        {
          level: "warning" as const,
          code: "output-factor-out-of-line",
          message: `output-factors: ${larger.name} (${significant(larger.size.equivalentSquare.value, 3)} mm) gives ${percent(value)} against the smaller ${smaller.name} (${significant(smaller.size.equivalentSquare.value, 3)} mm); output factors grow with the field.`,
          effect: "One of the two, or the size of one, is wrong by about as much.",
          remedy: "See whether two conditions carry each other's readings, or a size was mistyped.",
          where: { series: "output-factors", condition: larger.name },
          facts: { difference: value },
        },
      ];
    });
  },
};

/**
 * d ln Ω/d ln S that no field has which is wider than its blur: of a disc of half width a under a Gaussian blur it is
 * `x/(eˣ⁄² − 1)` with x = a²/σ², 1 for a = 1.6σ and never above 2 (physics.md 5).
 */
const STEEPEST = 2;

/** Output factors that fall faster towards small fields than the loss of the source's light allows. */
export const outputFactorFallsSteeply: Rule = {
  code: "output-factor-falls-steeply",
  level: "warning",
  sees: "of two neighbouring fields of one shape, the larger at least a tenth larger, the smaller with an output factor lower by more than the square of the ratio of sizes and U",
  threshold: { value: STEEPEST, unit: "1", source: "a disc under a Gaussian blur: d ln Ω/d ln S at most 2" },
  check({ outputFactors, model, typed }) {
    const shapes = new Map(typed["output-factors"]?.readings.map(({ condition, shape }) => [condition, shape]));
    const sorted = [...(outputFactors?.fields ?? [])].sort(
      (a, b) => b.size.equivalentSquare.value - a.size.equivalentSquare.value,
    );
    return ["rectangle", "circle"].flatMap((shape) => {
      const own = sorted.filter(({ name }) => shapes.get(name) === shape);
      return own.flatMap((small, i) => {
        const large = own[i - 1];
        if (!large) return [];
        const sizes = large.size.equivalentSquare.value / small.size.equivalentSquare.value;
        // nodes only where the fall is as steep as that
        if (sizes < 1.1 || !(large.outputFactor.value > sizes * sizes * small.outputFactor.value)) return [];
        const [rise, wider] = [
          large.outputFactor.over(small.outputFactor),
          large.size.equivalentSquare.over(small.size.equivalentSquare),
        ];
        const { value, U } = propagate(model, rise.over(wider.times(wider)).minus(1));
        if (!(value > U)) return [];
        return [
          {
            level: "warning" as const,
            code: "output-factor-falls-steeply",
            message: `output-factors: from ${large.name} to ${small.name} the output factor falls to ${percent(small.outputFactor.value / large.outputFactor.value)}, more than the square of their sizes does (${percent(1 / (sizes * sizes))}).`,
            effect: `The output factor of ${small.name} is too low, by ${percent(value)} and probably much more.`,
            remedy: "See whether the detector stood in the centre of the field, and whether that field was set.",
            where: { series: "output-factors", condition: small.name },
            facts: { excess: value, U },
          },
        ];
      });
    });
  },
};

/** A difference between the two coefficients that matters. */
const COEFFICIENT = 0.01;

/** Two ways to the coefficient that disagree. */
export const coefficientsDisagree: Rule = {
  code: "coefficients-disagree",
  level: "warning",
  sees: "the separation's coefficient differs from the calibration's by more than 1 % and more than 1.5 times U",
  threshold: { value: COEFFICIENT, unit: "1", source: "common practice" },
  check({ coefficientDifference, model }) {
    if (!coefficientDifference) return [];
    const { value, U } = propagate(model, coefficientDifference);
    if (!(Math.abs(value) > COEFFICIENT && Math.abs(value) > 1.5 * U)) return [];
    return [
      {
        level: "warning",
        code: "coefficients-disagree",
        message: `calibration: the separation's known doses give a coefficient ${percent(value)} off the calibration's (U of the difference ${percent(U)}).`,
        effect: "All doses rest on the calibration's; if that one is wrong, they are wrong by as much.",
        remedy: "See whether both doses refer to the same point, depth and monitor units.",
        where: { series: "calibration" },
        facts: { difference: value, U },
      },
    ];
  },
};

/** More fibre in the beam with less light in the second channel. */
export const fibreOutOfOrder: Rule = {
  code: "fibre-out-of-order",
  level: "warning",
  sees: "a condition with more fibre in the beam and a smaller stem load than another",
  check({ separation, typed }) {
    const lengths = new Map(typed.separation?.readings.map(({ condition, fibre_mm }) => [condition, fibre_mm]));
    const known = (separation?.conditions ?? [])
      .flatMap(({ name, load }) => {
        const length = lengths.get(name);
        return length === undefined ? [] : [{ name, length, load: load.value }];
      })
      .sort((a, b) => a.length - b.length);
    return known.flatMap((more, i) => {
      const less = known[i - 1];
      if (!less || more.length === less.length || more.load >= less.load) return [];
      return [
        {
          level: "warning" as const,
          code: "fibre-out-of-order",
          message: `separation: ${more.name} has ${more.length} mm of fibre in the beam and a stem load of ${significant(more.load, 3)}; ${less.name} has ${less.length} mm and ${significant(less.load, 3)}.`,
          effect: "The stem ratio itself does not change when conditions are exchanged, but the verified range does.",
          remedy: "See whether the two conditions carry each other's readings, or a length was mistyped.",
          where: { series: "separation", condition: more.name, column: "fibre_mm" },
        },
      ];
    });
  },
};
