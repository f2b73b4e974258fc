import { ArchiveError } from "../archive-error.ts";

/**
 * File systems that lie on another machine, by the number that statfs gives on Linux: `linux/magic.h`, and Lustre's and
 * GPFS's own sources (these two from memory). Locks and flushing cannot be relied on there.
 */
const NETWORK: ReadonlyMap<number, string> = new Map([
  [0x6969, "NFS"],
  [0x517b, "SMB"],
  [0xff534d42, "CIFS"],
  [0xfe534d42, "SMB 2"],
  [0x5346414f, "AFS"],
  [0x6b414653, "AFS"],
  [0x00c36400, "Ceph"],
  [0x73757245, "Coda"],
  [0x564c, "NCP"],
  [0x01021997, "9P"],
  [0x0bd00bd0, "Lustre"],
  [0x47504653, "GPFS"],
]);

/**
 * Refuses a folder on a network share, as far as the system tells; a share behind FUSE it does not.
 *
 * @param kind what statfs gives as the file system's type
 * @throws ArchiveError (`network-share`)
 */
export function refuseNetworkShare(folder: string, kind: number): void {
  // statfs gives 32 bits, which some systems extend with their sign
  const name = folder.startsWith("\\\\") ? "a Windows share" : NETWORK.get(kind >>> 0);
  if (name === undefined) return;
  throw new ArchiveError(
    "network-share",
    `The folder ${folder} lies on a network share (${name}), where locks and flushing cannot be relied on.`,
    "Keep the archive on a disk of this machine, and copy its backups to the share.",
  );
}
