import {
  applyEdits,
  type Campaign,
  type Descriptor,
  fittingName,
  type TableSeriesKind,
} from "@alcedo-dosimetry/campaign";
import { emptyTable, tableEdits } from "../readings/new-table.ts";

/** The chain's series, in order. */
export const CHAIN_SERIES = ["background", "separation", "calibration", "output-factors"] as const;

/** Longest name of a campaign. */
const LONGEST = 80;

/** What a new campaign begins with: nothing is assumed that the person does not see in the form. */
export const FIRST_DESCRIPTOR: Descriptor = {
  name: "campaign",
  alcedo: {
    version: 1,
    detector: {
      id: "",
      channels: ["blue", "green"],
      signalUnit: "nC",
      activeVolume: { diameter_mm: 1, length_mm: 1 },
      axis: "along-beam",
    },
    beam: { id: "", modality: "photon", energy_MV: 6, ssd_mm: 900, depth_mm: 100 },
  },
  resources: [],
};

/** What a campaign is called in the archive and in files: out of its title. */
export function nameFor(title: string): string {
  return (
    fittingName(title)
      .slice(0, LONGEST)
      .replace(/[-._]+$/, "") || "campaign"
  );
}

/** A new campaign: descriptor, and an empty table for each of the series that will be measured. */
export function newCampaign(
  descriptor: Descriptor,
  title: string,
  series: readonly TableSeriesKind[],
  decimal: "." | ",",
): Campaign {
  const begun: Campaign = {
    descriptor: {
      $schema: "https://datapackage.org/profiles/2.0/datapackage.json",
      ...descriptor,
      name: nameFor(title),
      title: title.trim(),
      resources: [],
    },
    tables: {},
  };
  const withBackground = series.includes("background");
  return series.reduce((campaign, own) => {
    const table = emptyTable(own, descriptor.alcedo.detector.channels, { decimal, withBackground });
    return applyEdits(campaign, tableEdits(campaign, own, table).edits);
  }, begun);
}
