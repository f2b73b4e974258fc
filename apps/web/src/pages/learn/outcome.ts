import {
  type Campaign,
  characterisationOf,
  type Evaluation,
  evaluate,
  type Finding,
  firstChannelAlone,
  type Quantity,
} from "@alcedo-dosimetry/campaign";
import { type Figure, fieldGeometry } from "@alcedo-dosimetry/figures";
import { figureOf } from "@alcedo-dosimetry/report";
import { type LightSources, lightSources, simulate, type Truth } from "@alcedo-dosimetry/simulator";
import { LITTLE_MM, laboratoryOf, NAMES, type Play } from "./play.ts";

/** One way to the output factor of the field, and what it gives. */
export interface Way {
  readonly id: "first-channel" | "old-ratio" | "todays-ratio";
  readonly value: number;
  readonly u: number | null;
  /** Over the true one, less one. */
  readonly off: number;
}

/** The light of one arrangement, taken apart as only its maker can. */
export interface SeenLight {
  readonly name: string;
  readonly fibre_mm: number;
  readonly light: LightSources;
}

/** What comes of a play: measured as in any campaign, evaluated by the same engine, and the truth beside it. */
export interface Outcome {
  readonly truth: Truth;
  /** Output factor of the field, by each way that gives one. */
  readonly ways: readonly Way[];
  readonly lights: readonly SeenLight[];
  readonly geometry: Figure;
  /** Absent where the separation gives no line. */
  readonly plane?: Figure;
  readonly stemRatio?: Quantity;
  readonly coefficient?: Quantity;
  /** Of the fibre as it was when new. */
  readonly whenNew: { readonly stemRatio: Quantity; readonly coefficient: Quantity };
  readonly standing: Evaluation["result"]["standing"];
  readonly findings: readonly Finding[];
}

/** Measures and evaluates what is set up on the page. The same play gives the same outcome. */
export function outcomeOf(play: Play): Outcome {
  const laboratory = laboratoryOf(play);
  const { campaign, truth } = simulate(laboratory, play.seed);
  const evaluation = evaluate(campaign);
  const fresh = simulate(laboratoryOf({ ...play, dose_Gy: 0, slip: "none" }), play.seed).campaign;
  const then = evaluate(fresh);
  const { result } = evaluation;
  const true_ = truth.outputFactors[NAMES.field]!;
  const find = (own: Evaluation, id: string) => own.result.quantities.find((quantity) => quantity.id === id);
  const way = (id: Way["id"], value: number | undefined, u: number | null): Way[] =>
    value === undefined ? [] : [{ id, value, u, off: value / true_ - 1 }];
  const factor = `output-factor.${NAMES.field}`;
  const today = find(evaluation, factor);
  const old = find(evaluate(withRatioOf(fresh, then, campaign)), factor);
  const plane = figureOf(campaign, evaluation, "separation");
  const stemRatio = find(evaluation, "separation.stem-ratio");
  const coefficient = find(evaluation, "calibration.coefficient");
  return {
    truth,
    ways: [
      ...way("first-channel", firstChannelAlone(evaluation).get(NAMES.field), null),
      ...way("old-ratio", old?.value, old?.u ?? null),
      ...way("todays-ratio", today?.value, today?.u ?? null),
    ],
    lights: lightsOf(play, truth),
    geometry: geometryOf(play, campaign),
    ...(plane && { plane }),
    ...(stemRatio && { stemRatio }),
    ...(coefficient && { coefficient }),
    whenNew: {
      stemRatio: find(then, "separation.stem-ratio")!,
      coefficient: find(then, "calibration.coefficient")!,
    },
    standing: result.standing,
    findings: result.findings,
  };
}

/** Today's output factors with the separation and calibration of the day on which the fibre was new. */
function withRatioOf(fresh: Campaign, then: Evaluation, today: Campaign): Campaign {
  const { descriptor, tables } = today;
  const { detector } = descriptor.alcedo;
  const stays = ["background", "output-factors"];
  return {
    // nobody told the program that the fibre has aged: then it would say that the characterisation is stale
    descriptor: {
      ...descriptor,
      alcedo: { ...descriptor.alcedo, detector: { ...detector, accumulatedDose_Gy: 0 } },
      resources: [
        ...descriptor.resources.filter(({ name }) => stays.includes(name)),
        { name: "characterisation", path: "characterisation.json", alcedo: { series: "characterisation" } },
      ],
    },
    tables: Object.fromEntries(Object.entries(tables).filter(([name]) => stays.includes(name))),
    characterisation: characterisationOf(fresh, then),
  };
}

function lightsOf(play: Play, truth: Truth): SeenLight[] {
  const { fibre, physicist } = laboratoryOf({ ...play, slip: "none" });
  const { fields, reference } = physicist.plan.outputFactors;
  const dose = (series: "separation" | "output-factors", condition: string) => truth.doses_Gy[series]![condition]!;
  const seen = (name: string, dose_Gy: number, fibre_mm: number): SeenLight => ({
    name,
    fibre_mm,
    light: lightSources(fibre, dose_Gy, fibre_mm),
  });
  return [
    seen(NAMES.little, dose("separation", NAMES.little), LITTLE_MM),
    seen(NAMES.moved, dose("separation", NAMES.moved), play.fibre_mm),
    seen(NAMES.much, dose("separation", NAMES.much), play.much_mm),
    seen(NAMES.reference, dose("output-factors", NAMES.reference), reference.fibre_mm),
    seen(NAMES.field, dose("output-factors", NAMES.field), fields[0]!.fibre_mm),
  ];
}

function geometryOf(play: Play, { descriptor }: Campaign): Figure {
  const field = (side: number) => ({ shape: "rectangle", x_mm: side, y_mm: side }) as const;
  const { fibre, physicist } = laboratoryOf({ ...play, slip: "none" });
  const { axis = "along-beam" } = descriptor.alcedo.detector;
  return fieldGeometry({
    id: "geometry",
    title: "What lies in the beam",
    conditions: [
      { name: "moved by you", nominal: field(100), fibre_mm: play.fibre_mm },
      { name: "much fibre", nominal: field(100), fibre_mm: play.much_mm },
      {
        name: "your field",
        nominal: field(play.side_mm),
        fibre_mm: physicist.plan.outputFactors.fields[0]!.fibre_mm,
      },
    ],
    volume: { diameter_mm: fibre.diameter_mm, length_mm: fibre.length_mm, axis },
  });
}
