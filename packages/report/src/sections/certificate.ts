import {
  ABSENT,
  numberText,
  plain,
  type Quantity,
  quantityCovariance,
  quantityText,
  resolveAssumptions,
} from "@alcedo-dosimetry/campaign";
import type { Block, Section, TableBlock, Text } from "../document/document.ts";
import { line, typeset, user } from "../document/text.ts";
import { CONCISE_LEGEND } from "./answer.ts";
import { derivation, expandedLegend } from "./derivation.ts";
import { type Material, quantitiesUnder, stageOf } from "./section-material.ts";
import { standingWords } from "./standing-words.ts";
import { timesInWords } from "./times.ts";

/** The coefficients that a characterisation hands on: the weights of the channels and the dose per corrected signal. */
function coefficients(material: Material): readonly Quantity[] {
  const weights = [
    ...quantitiesUnder(material, "separation.stem-ratio"),
    ...quantitiesUnder(material, "separation.weight."),
  ];
  const dose = material.quantities.get("calibration.coefficient") ?? material.quantities.get("separation.coefficient");
  return dose ? [...weights, dose] : weights;
}

/** What a characterisation is: coefficients with their uncertainties and covariance, and what they hold for. */
export function characterisation(material: Material): Section {
  const found = coefficients(material);
  const stages = (["separation", "calibration"] as const).flatMap((id) => {
    const stage = stageOf(material, id);
    return stage
      ? [
          [
            id === "separation" ? "Separation" : "Calibration",
            line({ text: standingWords(stage.standing), tone: "strong" }, ` · ${stage.reason}`),
          ] as const,
        ]
      : [];
  });
  return {
    id: "characterisation",
    title: "Characterisation",
    blocks: [
      ...(found.length === 0
        ? [
            {
              kind: "paragraph" as const,
              text: "There are no coefficients to certify: the separation has no result.",
              tone: "strong" as const,
            },
          ]
        : [coefficientTable(found), { kind: "paragraph" as const, text: CONCISE_LEGEND, tone: "dim" as const }]),
      { kind: "facts", facts: [...stages, ["Verified range", verifiedRange(material)]] },
      ...covarianceBlocks(material, found),
    ],
  };
}

function coefficientTable(found: readonly Quantity[]): TableBlock {
  return {
    kind: "table",
    caption: "Coefficients",
    columns: [
      { head: "symbol", kind: "text" },
      { head: "what", kind: "text" },
      { head: "value", kind: "number" },
      { head: "U", kind: "number" },
      { head: "k", kind: "number" },
      { head: "dof", kind: "number" },
    ],
    rows: found.map((quantity) => ({
      cells: [
        typeset(quantity.symbol),
        quantity.label,
        [{ text: quantityText(quantity), tone: "strong" }],
        quantity.U === null ? ABSENT : plain(quantity.U, 2),
        quantity.k === null ? ABSENT : quantity.k.toFixed(2),
        quantity.dof === null ? (quantity.typeA ? "unknown" : "∞") : plain(quantity.dof, 3),
      ],
    })),
  };
}

function verifiedRange({ quantities }: Material): Text {
  const highest = quantities.get("separation.verified-stem-load");
  return highest
    ? line("stem loads up to ", { text: numberText(highest), tone: "strong" }, "; beyond it nothing was tested")
    : [{ text: "none: no condition that was kept aside has confirmed the separation", tone: "attention" }];
}

/** Covariance and correlation of the coefficients: without them, what is computed with both has no right uncertainty. */
function covarianceBlocks(material: Material, found: readonly Quantity[]): Block[] {
  const covariance = quantityCovariance(
    material.evaluation,
    found.map(({ id }) => id),
  );
  if (!covariance || found.length < 2) return [];
  const correlation = (i: number, j: number) => {
    const scale = Math.sqrt(covariance[i]![i]! * covariance[j]![j]!);
    return scale > 0 ? plain(covariance[i]![j]! / scale, 4) : ABSENT;
  };
  const matrix = (caption: string, cell: (i: number, j: number) => string, legend: string): TableBlock => ({
    kind: "table",
    caption,
    columns: [
      { head: "", kind: "text" },
      ...found.map(({ symbol }) => ({ head: typeset(symbol), kind: "number" as const })),
    ],
    rows: found.map(({ symbol }, i) => ({ cells: [typeset(symbol), ...found.map((_, j) => cell(i, j))] })),
    legend,
  });
  return [
    matrix(
      "Covariance",
      (i, j) => plain(covariance[i]![j]!, 7),
      "Each element in the product of the two coefficients' units; on the diagonal the squares of the standard uncertainties.",
    ),
    matrix("Correlation", correlation, "Between −1 and 1."),
  ];
}

/** What the coefficients hold for, and until when. */
export function validity(material: Material): Section {
  const { detector, beam } = material.campaign.descriptor.alcedo;
  const { values: limits } = resolveAssumptions(material.campaign.descriptor);
  const stated = (value: string | number | undefined): Text =>
    value === undefined ? [{ text: "not stated", tone: "attention" }] : [user(`${value}`)];
  const filter =
    beam.flatteningFilter === undefined
      ? undefined
      : beam.flatteningFilter
        ? "with flattening filter"
        : "without flattening filter";
  const energy =
    beam.energy_MV === undefined
      ? beam.energy_MeV === undefined
        ? undefined
        : `${beam.energy_MeV} MeV`
      : `${beam.energy_MV} MV`;
  const field =
    beam.magneticField_T === undefined
      ? undefined
      : `${plain(beam.magneticField_T)} T${beam.magneticField_orientation === undefined ? "" : `, ${beam.magneticField_orientation}`}`;
  return {
    id: "validity",
    title: "Identity and validity",
    blocks: [
      {
        kind: "paragraph",
        text: "The coefficients hold for this identity alone. Another fibre, reader, gain, energy, filter or magnetic field needs a characterisation of its own.",
      },
      {
        kind: "facts",
        facts: [
          ["Fibre", [user(detector.id)]],
          ["Reader", stated(detector.reader)],
          ["Gain", stated(detector.gain)],
          ["Channels", [user(`${detector.channels.join(", ")}; signals in ${detector.signalUnit}`)]],
          ["Beam", [user(beam.id)]],
          ["Energy", stated(energy)],
          ["Filter", stated(filter)],
          ["Magnetic field", stated(field)],
          ["Readings taken", timesInWords(material) ?? [{ text: "times not stated", tone: "attention" }]],
          [
            "Dose received so far",
            stated(detector.accumulatedDose_Gy === undefined ? undefined : `${detector.accumulatedDose_Gy} Gy`),
          ],
        ],
      },
      { kind: "blank", label: "Valid until (date)" },
      { kind: "blank", label: "and up to an accumulated dose of (Gy)" },
      {
        kind: "paragraph",
        text: `The limits are for the physicist to set; void after repair, a new connector, or a change of reader or gain. A campaign that uses this characterisation calls it stale ${plain(limits.characterisationAge_days)} days after these readings, or after ${plain(limits.characterisationDose_Gy)} Gy more to the fibre.`,
        tone: "dim",
      },
    ],
  };
}

/** Formulas and budgets of the coefficients. */
export function coefficientOrigins(material: Material): Section {
  const printed = new Set<number>();
  return {
    id: "origins",
    title: "Where the coefficients come from",
    blocks: coefficients(material).flatMap((quantity) => {
      const blocks = derivation(material, quantity, printed);
      return blocks.length > 0 ? blocks : [{ kind: "paragraph" as const, text: expandedLegend(quantity) }];
    }),
  };
}
