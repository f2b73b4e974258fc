import { toUtf8 } from "@alcedo-dosimetry/tabular";
import { memoryFolder } from "../folder-source.ts";

/** Invented data for this package's tests. */
const DESCRIPTOR = `{
  "$schema": "https://datapackage.org/profiles/2.0/datapackage.json",
  "name": "invented-cones",
  "alcedo": {
    "version": 1,
    "detector": { "id": "F-1", "channels": ["blue", "green"], "signalUnit": "nC" },
    "beam": { "id": "B-1", "modality": "photon", "energy_MV": 6 }
  },
  "resources": [
    { "name": "separation", "path": "separation.csv", "alcedo": { "series": "separation" } },
    { "name": "calibration", "path": "data/calibration.csv", "alcedo": { "series": "calibration" } }
  ]
}
`;

/** The files of a small sound folder. */
export const SAMPLE_FILES: Readonly<Record<string, string>> = {
  "datapackage.json": DESCRIPTOR,
  "separation.csv": `reading,condition,signal_blue,signal_green,dose_group,role,note
s1,min,6.50,3.500,a,fit,
s2,max,17.000,17.500,a,fit,"second loop, re-routed"
s3,mid,11.000,9.500,a,verify,
`,
  "data/calibration.csv": `reading,condition,signal_blue,signal_green,dose_Gy,dose_u_percent
c1,ref,6.500,3.500,1.00,0.7
`,
};

/** A folder in memory: the sound one with some files changed, added, or taken out (`undefined`). */
export function sampleFolder(changes: Readonly<Record<string, string | Uint8Array | undefined>> = {}) {
  const files = new Map<string, Uint8Array>();
  for (const [path, content] of Object.entries({ ...SAMPLE_FILES, ...changes })) {
    if (content !== undefined) files.set(path, typeof content === "string" ? toUtf8(content) : content);
  }
  return memoryFolder("invented", files);
}

/** The descriptor as loose JSON, to be made wrong at will. */
interface LooseDescriptor {
  readonly alcedo: { readonly beam: object };
  readonly resources: object[];
}

/** The descriptor's text after a change of its JSON value. */
export function changedDescriptor(change: (json: LooseDescriptor) => void): string {
  const json = JSON.parse(DESCRIPTOR) as LooseDescriptor;
  change(json);
  return JSON.stringify(json);
}
