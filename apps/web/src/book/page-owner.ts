/** Names this page among those of its browser. */
export const OWNER: string = crypto.randomUUID();

const PREFIX = "alcedo-page-";

/** Lets the other pages of this browser know that a page lives, for as long as it does. */
export function holdOwner(owner: string): void {
  // held until the page is gone: this never ends
  void navigator.locks.request(PREFIX + owner, () => Promise.race<never>([]));
}

/** The pages of this browser that live. */
export async function livingOwners(): Promise<ReadonlySet<string>> {
  const { held = [] } = await navigator.locks.query();
  return new Set(held.flatMap(({ name }) => (name?.startsWith(PREFIX) ? [name.slice(PREFIX.length)] : [])));
}
