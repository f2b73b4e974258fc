import { ABSENT, plain } from "@alcedo-dosimetry/campaign";
import type { Block, Section, Text } from "../document/document.ts";
import { user } from "../document/text.ts";
import { fieldsOf, measuredSize, nominalSize } from "./output-factor-table.ts";
import { isSetUpFigure } from "./section-figures.ts";
import type { Material } from "./section-material.ts";
import { timesInWords } from "./times.ts";

/** What was measured with what, where and when, with the drawings of the geometry to scale. */
export function setUp(material: Material): Section {
  const { figures } = material;
  const table = fieldTable(material);
  const drawings = figures.filter(isSetUpFigure);
  return {
    id: "set-up",
    title: "Set-up",
    blocks: [
      { kind: "facts", facts: setUpFacts(material) },
      ...(table ? [table] : []),
      ...drawings.map((figure): Block => ({ kind: "figure", figure })),
    ],
  };
}

/** Detector, beam and times as facts; what the campaign does not state is named as not stated. */
function setUpFacts(material: Material): (readonly [string, Text])[] {
  const { detector, beam } = material.campaign.descriptor.alcedo;
  const { activeVolume: volume, axis } = detector;
  const stated = (value: string | undefined): Text =>
    value === undefined ? [{ text: "not stated", tone: "dim" }] : [user(value)];
  const size = volume && `⌀ ${plain(volume.diameter_mm)} mm × ${plain(volume.length_mm)} mm`;
  const energy =
    beam.energy_MV === undefined
      ? beam.energy_MeV === undefined
        ? undefined
        : `${plain(beam.energy_MeV)} MeV`
      : `${plain(beam.energy_MV)} MV`;
  const filter =
    beam.flatteningFilter === undefined
      ? "flattening filter not stated"
      : `${beam.flatteningFilter ? "with" : "without"} flattening filter`;
  const length = (value: number | undefined) => stated(value === undefined ? undefined : `${plain(value)} mm`);
  const field = beam.magneticField_T;
  return [
    ["Fibre", [user(detector.id)]],
    ["Reader", stated(detector.reader)],
    ["Gain", stated(detector.gain)],
    ["Channels", [user(`${detector.channels.join(", ")}; signals in ${detector.signalUnit}`)]],
    [
      "Active volume",
      stated(size && `${size}${axis ? `, its axis ${axis.replace("-", " the ")}` : ", axis not stated"}`),
    ],
    [
      "Dose received so far",
      stated(detector.accumulatedDose_Gy === undefined ? undefined : `${plain(detector.accumulatedDose_Gy)} Gy`),
    ],
    ["Beam", [user(beam.id)]],
    ["Quality", `${beam.modality}s, ${energy ?? "energy not stated"}, ${filter}`],
    ["SSD", length(beam.ssd_mm)],
    ["Depth", length(beam.depth_mm)],
    [
      "Magnetic field",
      stated(
        field === undefined
          ? undefined
          : `${plain(field)} T${beam.magneticField_orientation === undefined ? "" : `, ${beam.magneticField_orientation}`}`,
      ),
    ],
    ["Readings taken", timesInWords(material) ?? [{ text: "times not stated", tone: "dim" }]],
  ];
}

function fieldTable(material: Material): Block | undefined {
  const fields = fieldsOf(material);
  if (fields.length === 0) return undefined;
  const offsets = fields.some(({ reading }) => reading.offset_x_mm !== undefined || reading.offset_y_mm !== undefined);
  const offset = (value: number | undefined) => (value === undefined ? ABSENT : plain(value));
  return {
    kind: "table",
    caption: "Fields that were set",
    columns: [
      { head: "field", kind: "code" },
      { head: "role", kind: "text" },
      { head: "shape", kind: "text" },
      { head: "nominal mm", kind: "number" },
      { head: "FWHM mm", kind: "number" },
      ...(offsets
        ? [
            { head: "offset x mm", kind: "number" as const },
            { head: "offset y mm", kind: "number" as const },
          ]
        : []),
    ],
    rows: fields.map(({ condition, role, reading }) => ({
      cells: [
        condition,
        role,
        reading.shape,
        nominalSize(reading),
        measuredSize(reading),
        ...(offsets ? [offset(reading.offset_x_mm), offset(reading.offset_y_mm)] : []),
      ],
      ...(role === "reference" && { tone: "reference" as const }),
    })),
    ...(offsets && { legend: "Offset: the tip's measured distance from the field's centre." }),
  };
}
