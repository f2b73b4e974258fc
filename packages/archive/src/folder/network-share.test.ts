import { expect, test } from "vitest";
import { refuseNetworkShare } from "./network-share.ts";

// Outside values: linux/magic.h of the kernel's headers.
test.each([
  ["NFS", 0x6969],
  ["SMB", 0x517b],
  ["CIFS", 0xff534d42],
  ["CIFS, where the number comes with a sign", 0xff534d42 | 0],
  ["SMB 2", 0xfe534d42],
  ["9P", 0x01021997],
])("FILE-3: a share of the kind %s is refused", (_, kind) => {
  expect(() => refuseNetworkShare("/srv/alcedo", kind)).toThrow(/lies on a network share/);
});

test("FILE-3: a Windows share is refused by its path", () => {
  expect(() => refuseNetworkShare("\\\\server\\share", 0)).toThrow(/Windows share.*disk of this machine/);
});

test.each([
  ["ext4", 0xef53],
  ["XFS", 0x58465342],
  ["Btrfs", 0x9123683e],
  ["tmpfs", 0x01021994],
  ["one that is not known", 0],
])("FILE-3: a local disk of the kind %s is let in", (_, kind) => {
  expect(() => refuseNetworkShare("/srv/alcedo", kind)).not.toThrow();
});
