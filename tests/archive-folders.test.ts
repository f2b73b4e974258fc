/** Campaign folders go through an archive and come back as they were: the caller converts, the archive keeps the document. */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { audit, campaignAt, keepCampaign, reviseCampaign } from "@alcedo-dosimetry/archive";
import { type ArchiveFolder, openArchive } from "@alcedo-dosimetry/archive/folder";
import { memoryFolder, readFolder, writeFolder } from "@alcedo-dosimetry/exchange";
import { REGIMES, simulate } from "@alcedo-dosimetry/simulator";
import { afterAll, beforeAll, expect, test } from "vitest";
import { root } from "./repository-files.ts";

let archive: ArchiveFolder;
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "alcedo-archive-folders-"));
  archive = await openArchive(folder, { clock: () => "2026-03-14T08:00:00Z", who: "R. Tester" });
});

afterAll(async () => {
  await archive.close();
  rmSync(folder, { recursive: true });
});

type Files = ReadonlyMap<string, Uint8Array>;

/** Imports the files of a folder under a new name, and exports what the archive keeps. */
async function throughArchive(files: Files, id?: string): Promise<{ id: string; files: Files }> {
  const { campaign } = readFolder(memoryFolder("imported", files));
  const kept =
    id === undefined
      ? await keepCampaign(archive, campaign!, "import")
      : await reviseCampaign(archive, id, campaign!, { after: (await campaignAt(archive, id)).revision, why: "again" });
  return { id: kept.id, files: writeFolder((await campaignAt(archive, kept.id)).campaign) };
}

test.each(Object.entries(REGIMES))(
  "%s: the canonical export, imported and exported again, is the same bytes",
  async (name, of) => {
    const { campaign } = simulate(of(), 12);
    const descriptor = { ...campaign.descriptor, name: `invented-${name.toLowerCase().replace(/[^a-z0-9]+/g, "-")}` };
    const { id, files } = await throughArchive(writeFolder({ ...campaign, descriptor }));
    const { revision } = await campaignAt(archive, id);
    expect((await throughArchive(files, id)).files).toEqual(files);
    expect((await campaignAt(archive, id)).revision, "the same again is no revision").toBe(revision);
  },
);

test("the demonstration campaign comes back with every cell as typed", async () => {
  const [name] = readdirSync(join(root, "examples"));
  const files = new Map(
    readdirSync(join(root, "examples", name!))
      .filter((file) => /\.(csv|json)$/.test(file))
      .map((file) => [file, new Uint8Array(readFileSync(join(root, "examples", name!, file)))]),
  );
  const { campaign } = readFolder(memoryFolder("demonstration", files));
  const first = await throughArchive(files);
  expect((await campaignAt(archive, first.id)).campaign).toEqual(campaign);
  expect((await throughArchive(first.files, first.id)).files).toEqual(first.files);
});

test("unknown columns, texts like formulas and decimal commas survive", async () => {
  const text = (value: string) => new TextEncoder().encode(value);
  const descriptor = {
    ...{ name: "invented-odd", version: "7", contributors: [{ title: "Zoë", roles: ["measured"], b: 1, a: 2 }] },
    alcedo: {
      version: 1,
      beam: { id: "B-1", modality: "photon" },
      detector: { signalUnit: "nC", id: "F-1", channels: ["blue", "green"] },
    },
    resources: [{ path: "dark.csv", name: "background", alcedo: { series: "background" } }],
  };
  const table =
    'reading;condition;duration_s;signal_blue;signal_green;room light;note\nb1;dark;60;0,0120;0,009;"a;b";=1+1\n';
  const files = new Map([
    ["datapackage.json", text(JSON.stringify(descriptor))],
    ["dark.csv", text(table)],
  ]);
  const first = await throughArchive(files);
  expect(new TextDecoder().decode(first.files.get("dark.csv"))).toBe(table);
  expect((await throughArchive(first.files, first.id)).files).toEqual(first.files);
});

test("after all this the archive has no fault", async () => {
  const { faults, revisions } = await audit(archive);
  expect(faults).toEqual([]);
  expect(revisions).toBeGreaterThan(20);
});
