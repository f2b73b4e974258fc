import { subtractedFraction } from "@alcedo-dosimetry/dosimetry";
import type { Model, Scalar } from "@alcedo-dosimetry/metrology";
import type { Evaluated } from "./evaluated.ts";
import { plainQuantity, quantityOf } from "./quantity.ts";
import type { Quantity, StageId } from "./result.ts";

/** A node that is to be reported. A test such as χ² has no node and stands as it is. */
type Reported =
  | { readonly id: string; readonly node: Scalar /** Whether E_n is wanted. */; readonly judged?: true }
  | { readonly plain: Quantity };

/** Every reported quantity of an evaluation with its node, for those that have one. */
export interface Reporting {
  readonly quantities: readonly Quantity[];
  readonly nodes: ReadonlyMap<string, Scalar>;
}

/** Reports what the stages found, in the order of the chain; a stage that was stopped reports nothing that rests on it. */
export function reportQuantities(evaluated: Evaluated): Reporting {
  const reported = [
    ...background(evaluated),
    ...separation(evaluated),
    ...calibration(evaluated),
    ...perReading(evaluated),
    ...outputFactors(evaluated),
  ];
  const { model } = evaluated;
  const nodes = new Map(reported.flatMap((one) => ("node" in one ? [[one.id, one.node] as const] : [])));
  const quantities = reported.map((one) =>
    "plain" in one
      ? one.plain
      : withEn(quantityOf(model, one.node, { ...nameOf(model, one.node), id: one.id }), one.judged),
  );
  return { quantities, nodes };
}

/** A difference over its expanded uncertainty (ISO 13528), where there is one. */
function withEn(quantity: Quantity, judged: true | undefined): Quantity {
  return judged && quantity.U ? { ...quantity, en: quantity.value / quantity.U } : quantity;
}

function nameOf({ tape }: Model, { index }: Scalar) {
  const name = tape.names.get(index);
  if (!name) throw new Error(`node ${index} is reported and has no name`);
  return name;
}

/** A node reported under its own key, named here where it has no name yet. */
function named(node: Scalar, id: string, symbol: string, label: string): Reported {
  return { id, node: node.tape.names.has(node.index) ? node : node.named(id, symbol, label) };
}

const stoppedAt = ({ stopped }: Evaluated, stage: StageId) => stopped.has(stage);

function background({ background: found, channels }: Evaluated): Reported[] {
  return found ? found.rates.map((node, c) => ({ id: `background.${channels[c]!}`, node })) : [];
}

function separation(evaluated: Evaluated): Reported[] {
  const { separation: found, channels, verifications, range, slope } = evaluated;
  if (!found) return characterisation(evaluated);
  const weights: Reported[] = found.stemRatio
    ? [{ id: "separation.stem-ratio", node: found.stemRatio }]
    : found.weights.map((node, c) => ({ id: `separation.weight.${channels[c + 1]!}`, node }));
  const test = plainQuantity(
    { id: "separation.chi2", symbol: "χ²", label: "disagreement of the fit conditions", unit: "1" },
    found.chi2,
    { dof: found.dof, ...(found.p !== undefined && { p: found.p }) },
  );
  if (stoppedAt(evaluated, "separation")) return [...weights, { plain: test }];
  return [
    ...weights,
    named(found.contrast, "separation.contrast", "contrast", "second channel per dose, most over least fibre"),
    { plain: test },
    ...verifications.map(({ condition, residual }) => ({ id: `separation.verify.${condition.name}`, node: residual })),
    ...(slope ? [{ id: "separation.residual-slope", node: slope }] : []),
    ...(range?.highest
      ? [
          named(
            range.highest.load,
            "separation.verified-stem-load",
            "ℓ_verified",
            `stem load up to which the separation is verified, by ${range.highest.name}`,
          ),
        ]
      : []),
    ...(found.coefficient
      ? [
          named(
            found.coefficient,
            "separation.coefficient",
            "N_D,sep",
            "dose per corrected signal, from the separation",
          ),
        ]
      : []),
  ];
}

/** What another day's separation and calibration say; the coefficient stands with the calibration. */
function characterisation({ characterisation: used, channels }: Evaluated): Reported[] {
  if (!used) return [];
  const { stemRatio, weights, verifiedStemLoad } = used.added;
  return [
    ...(stemRatio
      ? [{ id: "separation.stem-ratio", node: stemRatio }]
      : weights.map((node, c) => ({ id: `separation.weight.${channels[c + 1]!}`, node }))),
    ...(verifiedStemLoad ? [{ id: "separation.verified-stem-load", node: verifiedStemLoad }] : []),
  ];
}

function calibration(evaluated: Evaluated): Reported[] {
  const { calibration: found, characterisation: used, coefficientDifference: difference } = evaluated;
  if (!found && used?.added.coefficient)
    return [{ id: used.stored.quantities.at(-1)!.id, node: used.added.coefficient }];
  if (!found || stoppedAt(evaluated, "calibration")) return [];
  const own: Reported[] = [{ id: "calibration.coefficient", node: found.coefficient }];
  if (!difference) return own;
  return [
    ...own,
    named(
      difference,
      "separation.coefficient-difference",
      "ΔN_D",
      "coefficient known before over that of the calibration, less one",
    ),
  ];
}

/** Signals, doses and stem loads of readings as they stand. */
function perReading(evaluated: Evaluated): Reported[] {
  const { signals, weights, coefficient: known } = evaluated;
  if (!weights) return [];
  const coefficient = stoppedAt(evaluated, "calibration") ? undefined : known;
  return signals
    .filter(({ series }) => !stoppedAt(evaluated, series))
    .flatMap(({ series, condition, signals: channels, corrected, load }): Reported[] => {
      const place = `${series}.${condition}`;
      const fraction = subtractedFraction(channels, corrected);
      return [
        { id: `signal.${place}`, node: corrected },
        ...(coefficient
          ? [named(coefficient.times(corrected), `dose.${place}`, `D_${condition}`, `dose of a reading, ${condition}`)]
          : []),
        named(load, `stem-load.${place}`, `ℓ_${condition}`, `stem load of ${condition}`),
        named(
          fraction,
          `subtracted-fraction.${place}`,
          `f_${condition}`,
          `part of the first channel taken away, ${condition}`,
        ),
      ];
    });
}

function outputFactors(evaluated: Evaluated): Reported[] {
  const { outputFactors: found, comparisons } = evaluated;
  if (!found || stoppedAt(evaluated, "output-factors")) return [];
  const factors = [found.referenceFactors, ...found.fields, ...found.uncorrected];
  // what a table holds already is no factor of Ω, and a number that is not in it would be taken for one
  const averaged = found.correctionTable?.volumeAveraging !== "included";
  return [
    ...found.fields.map(({ net, outputFactor }) => ({ id: `output-factor.${net.name}`, node: outputFactor })),
    ...(found.reference.drift
      ? [named(found.reference.drift, "output-factors.drift", "drift", "largest move of the reference over the series")]
      : []),
    ...factors.flatMap(({ name, volumeAveraging, positioning }) => [
      ...(averaged ? [{ id: `volume-averaging.${name}`, node: volumeAveraging }] : []),
      { id: `positioning.${name}`, node: positioning },
    ]),
    ...found.fields.flatMap(({ name, outputCorrection: node }) =>
      node ? [{ id: `output-correction.${name}`, node }] : [],
    ),
    ...factors.map(({ name, size }) => ({ id: `equivalent-square.${name}`, node: size.equivalentSquare })),
    ...(comparisons?.compared ?? []).map(({ source, condition, difference }) => ({
      id: `comparison.${source}.${condition}`,
      node: difference,
      judged: true as const,
    })),
  ];
}
