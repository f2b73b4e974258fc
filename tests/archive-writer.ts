/**
 * What the test of killed processes starts: adds readings to an archive one by one for as long as it lives, and writes the
 * name of each to standard output once it is kept.
 */
import { writeSync } from "node:fs";
import { addReading, campaignAt } from "@alcedo-dosimetry/archive";
import { openArchive } from "@alcedo-dosimetry/archive/folder";

const archive = await openArchive(process.argv[2]!, { clock: () => "2026-03-14T08:00:00Z", who: "console" });
const { campaign } = await campaignAt(archive, "invented-console");
for (let next = campaign.tables["background"]!.rows.length; ; next++) {
  const cells = { reading: `b${next}`, condition: "dark", duration_s: "60", signal_blue: "0.01", signal_green: "0.01" };
  await addReading(archive, "invented-console", { table: "background", cells, why: "console" });
  writeSync(1, `b${next}\n`);
}
