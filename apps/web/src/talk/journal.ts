import type { CellConflict, Edit } from "@alcedo-dosimetry/campaign";

/** A change that the server has not acknowledged yet. */
export interface JournalEntry {
  /** UUID under which it is sent, however often. */
  readonly key: string;
  readonly campaign: string;
  /** The page that made it: another page of the same browser leaves it alone for as long as that one lives. */
  readonly owner: string;
  /** Order among the entries of its page. */
  readonly order: number;
  /** The revision that it was made to; of the first entry of a page the one that the server is told. */
  readonly after: number;
  readonly edits: readonly Edit[];
  readonly why: string;
}

/** What lies in the browser until the server has it on disk. */
export interface Journal {
  /** The entries of a campaign, in order. */
  read(campaign: string): Promise<readonly JournalEntry[]>;
  add(entry: JournalEntry): Promise<void>;
  /** In one go: takes the acknowledged entry out, and lets the others of its page follow the new revision. */
  acknowledge(entry: JournalEntry, revision: number): Promise<void>;
  /** In one go: puts other entries in the place of those of a page, after they were fitted to another's changes. */
  replace(campaign: string, owner: string, entries: readonly JournalEntry[]): Promise<void>;
  /** Campaigns that have entries. */
  campaigns(): Promise<readonly string[]>;
  readConflicts(campaign: string): Promise<readonly CellConflict[]>;
  keepConflicts(campaign: string, conflicts: readonly CellConflict[]): Promise<void>;
}

const NAME = "alcedo";
const ENTRIES = "entries";
const CONFLICTS = "conflicts";

/** Opens the journal of this browser, which all its pages share. */
export async function openJournal(factory: IDBFactory = indexedDB): Promise<Journal> {
  const opening = factory.open(NAME, 1);
  opening.onupgradeneeded = () => {
    opening.result.createObjectStore(ENTRIES, { keyPath: "key" }).createIndex("campaign", "campaign");
    opening.result.createObjectStore(CONFLICTS);
  };
  const database = await answered(opening);
  // a newer page of the same browser wants another form: let it, rather than hold it up
  database.onversionchange = () => database.close();

  /** Runs work in one transaction and waits until it is on the disk. */
  const within = async <T>(
    store: string,
    mode: "readonly" | "readwrite",
    work: (store: IDBObjectStore) => Promise<T>,
  ) => {
    const transaction = database.transaction(store, mode, { durability: "strict" });
    const done = new Promise<void>((resolve, reject) => {
      transaction.oncomplete = () => resolve();
      transaction.onabort = () => reject(transaction.error ?? new Error("the journal's transaction was given up"));
    });
    const [result] = await Promise.all([work(transaction.objectStore(store)), done]);
    return result;
  };
  const of = async (store: IDBObjectStore, campaign: string) =>
    (await answered(store.index("campaign").getAll(campaign) as IDBRequest<JournalEntry[]>)).sort(
      (a, b) => a.order - b.order,
    );

  return {
    read: (campaign) => within(ENTRIES, "readonly", (store) => of(store, campaign)),
    add: (entry) => within(ENTRIES, "readwrite", async (store) => void (await answered(store.put(entry)))),
    acknowledge: (entry, revision) =>
      within(ENTRIES, "readwrite", async (store) => {
        store.delete(entry.key);
        for (const other of await of(store, entry.campaign))
          if (other.key !== entry.key && other.owner === entry.owner) store.put({ ...other, after: revision });
      }),
    replace: (campaign, owner, entries) =>
      within(ENTRIES, "readwrite", async (store) => {
        for (const old of await of(store, campaign)) if (old.owner === owner) store.delete(old.key);
        for (const entry of entries) store.put(entry);
      }),
    campaigns: () =>
      within(ENTRIES, "readonly", async (store) => [
        ...new Set((await answered(store.getAll() as IDBRequest<JournalEntry[]>)).map(({ campaign }) => campaign)),
      ]),
    readConflicts: (campaign) =>
      within(
        CONFLICTS,
        "readonly",
        async (store) => (await answered(store.get(campaign) as IDBRequest<CellConflict[] | undefined>)) ?? [],
      ),
    keepConflicts: (campaign, conflicts) =>
      within(CONFLICTS, "readwrite", async (store) => {
        if (conflicts.length === 0) await answered(store.delete(campaign));
        else await answered(store.put([...conflicts], campaign));
      }),
  };
}

function answered<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error("the journal does not answer"));
  });
}
