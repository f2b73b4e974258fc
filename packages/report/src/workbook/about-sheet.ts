import {
  beamInWords,
  CAUTIONS,
  type Campaign,
  countInWords,
  detectorInWords,
  type Evaluation,
  isInvented,
} from "@alcedo-dosimetry/campaign";
import type { WrittenCell, WrittenSheet } from "@alcedo-dosimetry/tabular/workbook";
import { whole } from "./whole-text.ts";

const NOTES = [
  "Numbers are kept with all their digits; formats show those that count. U is the expanded uncertainty for 95 %, k·u.",
  "Percentages, differences and ratios to the reference are formulas: click them to see what over what.",
  "Readings are as typed. Those with a reason in the column exclude were left out of the evaluation.",
];

/** The sheet that says whose results these are, from which data, and with what cautions. */
export function aboutSheet({ descriptor }: Campaign, { result }: Evaluation): WrittenSheet {
  const { detector, beam } = descriptor.alcedo;
  const fact = (name: string, value: string): WrittenCell[] => [
    { value: name, style: { bold: true } },
    { value: whole(value), style: { wrap: true } },
  ];
  const marked: WrittenCell[][] = isInvented(descriptor)
    ? [
        [
          { value: "INVENTED DATA: measured nowhere, not for use.", style: { bold: true, warning: true } },
          { value: "", style: { warning: true } },
        ],
      ]
    : [];
  return {
    name: "about",
    rows: [
      [{ value: whole(descriptor.title ?? descriptor.name), style: { title: true } }],
      ...marked,
      [],
      fact("campaign", descriptor.name),
      ...(descriptor.description === undefined ? [] : [fact("description", descriptor.description)]),
      fact("input", result.input),
      fact("program", `alcedo ${result.alcedo}`),
      fact("detector", detectorInWords(detector)),
      fact("channels", detector.channels.join(", ")),
      fact("signal unit", detector.signalUnit),
      fact("beam", beamInWords(beam)),
      fact("standing", result.standing),
      fact("findings", countInWords(result.findings) || "none"),
      [],
      ["stage", "standing and reason"].map((value): WrittenCell => ({ value, style: { header: true } })),
      ...result.stages.map(({ id, standing, reason }) => fact(id, `${standing}: ${reason}`)),
      [],
      ...[CAUTIONS, ...NOTES].map((value, i): WrittenCell[] => [
        { value: i === 0 ? "cautions" : i === 1 ? "notes" : "", style: { bold: true } },
        { value, style: { wrap: true } },
      ]),
    ],
    columns: [{ width: 18 }, { width: 100 }],
  };
}
