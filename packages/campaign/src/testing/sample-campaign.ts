import type { Campaign } from "../campaign.ts";
import type { Descriptor } from "../descriptor.ts";
import type { Table } from "../table.ts";

/** Invented data for this package's tests: a descriptor with everything stated, as JSON text so that each test gets its own. */
const DESCRIPTOR = `{
  "$schema": "https://datapackage.org/profiles/2.0/datapackage.json",
  "name": "fernhill-bunker-3-cones",
  "title": "Cone commissioning, bunker 3",
  "alcedo": {
    "version": 1,
    "detector": {
      "id": "F-0317", "channels": ["blue", "green"], "signalUnit": "nC",
      "activeVolume": { "diameter_mm": 1, "length_mm": 1 }, "axis": "along-beam",
      "temperatureCoefficient_perK": { "value": -0.001, "u": 0.0003 }, "accumulatedDose_Gy": 410
    },
    "beam": {
      "id": "B3-6FFF", "modality": "photon", "energy_MV": 6, "flatteningFilter": false,
      "ssd_mm": 900, "depth_mm": 100, "magneticField_T": 0
    },
    "assumptions": {
      "doseEquality_u_percent": 0.1, "positioning_u_mm": 0.1, "fieldWidth_u_mm": 0.1,
      "penumbraSigma_mm": { "value": 1.5, "u": 0.29 }, "referenceTemperature_C": 22.0, "temperature_u_C": 1.0,
      "outputCorrection": { "value": 1, "u": 0.005 }, "intermediateLink": { "value": 1, "u": 0 }
    },
    "criteria": { "separationResidual_percent": 0.5 }
  },
  "resources": [
    { "name": "background", "path": "background.csv", "alcedo": { "series": "background" } },
    { "name": "separation", "path": "separation.csv", "alcedo": { "series": "separation" } },
    { "name": "calibration", "path": "calibration.csv", "alcedo": { "series": "calibration" } },
    { "name": "output-factors", "path": "output-factors.csv", "alcedo": { "series": "output-factors" } }
  ]
}`;

/** The tables of the invented campaign, by resource. */
export const SAMPLE_TABLES = {
  background: `reading,condition,time,duration_s,signal_blue,signal_green
b1,dark,2026-03-14T09:00:00+01:00,60,0.012,0.009
b2,dark,2026-03-14T09:02:00+01:00,60,0.013,0.009`,
  separation: `reading,condition,duration_s,mu,signal_blue,signal_green,dose_group,role,dose_Gy,exclude,note
s1,little,20,100,6.500,3.500,a,fit,1,,
s2,little,20,100,6.51,3.50,a,fit,1,,first after lunch
s3,much,20,100,17.000,17.500,a,fit,1,,
s4,much,20,100,,overflow,a,fit,,range exceeded,
s5,middle,20,100,11.000,9.500,a,verify,1,,`,
  calibration: `reading,condition,duration_s,temperature_C,signal_blue,signal_green,dose_Gy,dose_u_percent
c1,ref,20,21.8,6.500,3.500,1.000,0.7
c2,ref,20,,6.502,3.501,1.000,0.7`,
  "output-factors": `reading,condition,duration_s,monitor,signal_blue,signal_green,role,shape,x_mm,y_mm,diameter_mm,fwhm_x_mm,fwhm_y_mm,sigma_mm,sigma_u_mm,offset_x_mm,offset_y_mm,k_volume,k_volume_u
o1,100x100,20,10.01,6.500,3.500,reference,rectangle,100,100,,100.2,100.1,,,,,,
o2,cone-5,20,10.02,3.270,1.260,field,circle,,,5,5.1,5.0,1.4,0.1,-0.05,0.1,1.01,0.002`,
} as const;

/** A fresh copy of the invented descriptor, to be changed at will. */
export function sampleDescriptor(): Descriptor {
  return JSON.parse(DESCRIPTOR) as Descriptor;
}

/** A table from plain text: cells divided by commas (or the sign given), no quotes. */
export function sampleTable(path: string, text: string, delimiter = ",", decimal: "." | "," = "."): Table {
  const [header = "", ...rows] = text.split("\n");
  return {
    path,
    decimal,
    columns: header.split(delimiter),
    rows: rows.map((row) => row.split(delimiter)),
    lines: rows.map((_, i) => i + 2),
  };
}

/** The invented campaign, with some tables put in place of its own; `null` takes the resource out. */
export function sampleCampaign(changes: Readonly<Record<string, string | null>> = {}): Campaign {
  const descriptor = sampleDescriptor();
  const texts: Record<string, string | null> = { ...SAMPLE_TABLES, ...changes };
  for (const name of Object.keys(texts)) {
    if (!descriptor.resources.some((resource) => resource.name === name)) {
      descriptor.resources.push({ name, path: `${name}.csv`, alcedo: { series: name as "reference-set" } });
    }
  }
  descriptor.resources = descriptor.resources.filter((resource) => texts[resource.name] !== null);
  const tables = descriptor.resources.map(({ name, path }) => [name, sampleTable(path, texts[name]!)] as const);
  return { descriptor, tables: Object.fromEntries(tables) };
}
