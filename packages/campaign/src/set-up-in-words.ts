import { plain } from "./concise.ts";
import type { Descriptor } from "./descriptor.ts";

/** A detector in a line: `fibre F-0317, 1 × 1 mm, along the beam`. */
export function detectorInWords({ id, activeVolume, axis }: Descriptor["alcedo"]["detector"]): string {
  const size = activeVolume && `${plain(activeVolume.diameter_mm)} × ${plain(activeVolume.length_mm)} mm`;
  return [`fibre ${id}`, size, axis?.replace("-", " the ")].filter((part) => part !== undefined).join(", ");
}

/** A beam in a line: `beam B3-6FFF, 6 MV without flattening filter, depth 100 mm, SSD 900 mm`. */
export function beamInWords(beam: Descriptor["alcedo"]["beam"]): string {
  const energy =
    beam.energy_MV === undefined
      ? beam.energy_MeV === undefined
        ? undefined
        : `${plain(beam.energy_MeV)} MeV ${beam.modality}s`
      : `${plain(beam.energy_MV)} MV`;
  const filter = beam.flatteningFilter === false ? "without flattening filter" : undefined;
  return [
    `beam ${beam.id}`,
    [energy, filter].filter((part) => part !== undefined).join(" ") || undefined,
    beam.depth_mm === undefined ? undefined : `depth ${plain(beam.depth_mm)} mm`,
    beam.ssd_mm === undefined ? undefined : `SSD ${plain(beam.ssd_mm)} mm`,
    beam.magneticField_T ? `${plain(beam.magneticField_T)} T` : undefined,
  ]
    .filter((part) => part !== undefined)
    .join(", ");
}
