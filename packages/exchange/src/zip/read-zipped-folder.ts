import {
  DESCRIPTOR_FILE,
  type Finding,
  pathFault,
  type StructureCode,
  shownName,
  structureFinding,
} from "@alcedo-dosimetry/campaign";
import { openZip, WorkbookFault, type ZipArchive } from "@alcedo-dosimetry/tabular/workbook";
import { memoryFolder } from "../folder-source.ts";
import { FILE_LIMIT } from "../open-file.ts";
import { type FolderReading, readFolder } from "../read-folder.ts";

/** Bytes of all files together when unpacked, and their number. */
const [UNPACKED, FILES] = [4 * FILE_LIMIT, 1000];

/** So many faults of one kind are listed. */
const LISTED = 10;

const FAULTS: Readonly<Partial<Record<WorkbookFault["kind"], StructureCode>>> = {
  encrypted: "zip-encrypted",
  "too-large": "zip-too-large",
  twice: "zip-twice",
};

/**
 * Reads a campaign folder from the bytes of a zip file: `datapackage.json` at its top, or in the one folder that holds
 * everything. Nothing touches a disk, and nothing is unpacked before its size is known; still a file that would be dangerous
 * to unpack is refused, with the place: paths that lead out of the folder, links, names twice.
 *
 * @param name of the file, for messages
 */
export function readZippedFolder(bytes: Uint8Array, name: string): FolderReading {
  const file = shownName(name);
  if (bytes.length > FILE_LIMIT) return { findings: [tooLarge(`${file}: the file has more than 64 MiB.`)] };
  try {
    const archive = openZip(bytes, UNPACKED);
    if (archive.names.length > FILES)
      return { findings: [tooLarge(`${file}: it holds ${archive.names.length} files; at most ${FILES} are read.`)] };
    const findings = [...placeFaults(archive, file), ...sameNames(archive, file)];
    if (findings.length > 0) return { findings };
    const names = archive.names.filter((path) => !path.endsWith("/"));
    const top = topFolder(names);
    const files = new Map(
      names.filter((path) => path.startsWith(top)).map((path) => [path.slice(top.length), archive.read(path)]),
    );
    return readFolder(memoryFolder(name, files));
  } catch (error) {
    if (!(error instanceof WorkbookFault)) throw error;
    return { findings: [structureFinding(FAULTS[error.kind] ?? "zip-unreadable", `${file}: ${error.message}.`)] };
  }
}

function tooLarge(message: string): Finding {
  return structureFinding("zip-too-large", message, { facts: { limit: FILE_LIMIT, unpacked: UNPACKED, files: FILES } });
}

/** Paths that mean another place than one in the folder, and links, which mean one that nobody can see. */
function placeFaults(archive: ZipArchive, file: string): Finding[] {
  const paths = archive.names.flatMap((path) => {
    const fault = path === DESCRIPTOR_FILE ? undefined : pathFault(path.replace(/\/$/, ""));
    // a descriptor of another case is a file like any other here: what is wrong with it is said when it is looked for
    if (fault === undefined || path.toLowerCase() === DESCRIPTOR_FILE) return [];
    return [structureFinding("zip-path", `${file}: the path ${shownName(path)} ${fault}.`, { where: { file: path } })];
  });
  const links = archive.names
    .filter((path) => archive.isLink(path))
    .map((path) => {
      const message = `${file}: ${shownName(path)} is a link to another file.`;
      return structureFinding("zip-link", message, { where: { file: path } });
    });
  return [...paths.slice(0, LISTED), ...links.slice(0, LISTED)];
}

/** Names that differ in capitals alone: on many disks they are one file. */
function sameNames({ names }: ZipArchive, file: string): Finding[] {
  const seen = new Map<string, string>();
  const twice: Finding[] = [];
  for (const path of names) {
    const other = seen.get(path.toLowerCase());
    seen.set(path.toLowerCase(), path);
    if (other === undefined) continue;
    const message = `${file}: ${shownName(other)} and ${shownName(path)} differ in capitals alone: on many disks they are one file.`;
    twice.push(structureFinding("zip-twice", message, { where: { file: path } }));
  }
  return twice.slice(0, LISTED);
}

/** The one folder that holds everything, with its `/`; what systems put beside it of their own does not count. */
function topFolder(names: readonly string[]): string {
  const own = names.filter((path) => !/(?:^|\/)\.|^__MACOSX\//.test(path));
  const first = own[0];
  if (first === undefined || !first.includes("/")) return "";
  const top = first.slice(0, first.indexOf("/") + 1);
  const holds = own.every((path) => path.startsWith(top)) && own.includes(top + DESCRIPTOR_FILE);
  return holds ? top : "";
}
