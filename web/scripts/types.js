// @ts-check
/**
 * The shapes that travel between rooms.
 *
 * @typedef {{id: string, kind: string, stamp: string, fields: Record<string, any>, stamps?: Record<string, string>}}
 *   RecordForm A record, or a change to one.
 *
 * @typedef {{id: string, verb: string, title: string, lead: number, subject: string, place: string | null,
 *   house: string | null, batch: string | null, fixture: string | null, count: number | null, from: string, aim: string,
 *   by: string | null, state: "ready" | "waiting" | "early" | "later" | "done" | "let go" | "lapsed", leeway: number | null,
 *   in_the_way: {job?: string, fixture?: string, gate?: string, batch?: string, text: string}[], why: string[],
 *   minutes: number, needs: {what: string, amount: number, unit: string}[], cautions: string[], part: number,
 *   repeat: number | null, for: string | null, pinched: string | null, hint: string | null, writes: Record<string, any>,
 *   low: boolean, ways: Way[], deeds?: string[], told_by?: string[], at?: string | null}} Job A job as both kernels say it.
 *
 * @typedef {{id: string, say: string, tells: Record<string, any>[], changes: {kind: string, id: string, fields: Record<string, any>}[],
 *   asks: "count" | "weight" | null, note: string | null}} Way An answer to a job: what it writes, what is asked first, and what it costs.
 *
 * @typedef {{batch: string, place: string | null, house: string | null, title: string, subject: string, says: string,
 *   about: string | null, ways: Way[]}} CatchUpLine What is believed of a batch; the first way is that it is so.
 *
 * @typedef {{id: string, kind: string, fields: Record<string, any>}} Wish A change before it has a stamp.
 *
 * @typedef {{kept: number, oldest: number | null, lastShared: number | null, refused: number, reachable: boolean | null,
 *   problem: string | null, clockAheadMs: number, joined: boolean | null, keeps: boolean, differs: boolean, unread: string[]}} Sharing What is known of sharing with the server.
 *
 * @typedef {{
 *   book: import("./store/book.js").Book, params: string[], back: (...past: string[]) => void, returns: boolean,
 *   from: import("./shell/router.js").Way | null, deeper: () => void,
 *   go: (name: string, ...params: string[]) => void,
 *   write: ReturnType<typeof import("./household/writing.js").pen>,
 *   toast: (toast: import("./ui/toast.js").Toast) => void,
 *   ask: (path: string, more?: RequestInit) => Promise<any>, send: (path: string, file: Blob) => Promise<any>,
 *   askKept: (path: string, show: (answer: any) => void) => Promise<any>,
 *   today: () => string, now: () => number, zone: () => string | null, newId: () => string,
 *   moment: () => {on: string, at: string, by: string | null}, person: () => string | null,
 *   setPerson: (id: string) => Promise<void>, guest: {id: string, places: string[], until: string} | null,
 *   becomeGuest: (given: any) => Promise<void>, settings: any, setSetting: (name: "scheme" | "hand" | "awake", value: string) => void,
 *   shareNow: () => Promise<void>, shareSoon: () => void, version: string
 * }} Context What every room has to hand. back: to the room before, and past some by name; returns: whether one came back to this
 *   one; from: the room it was opened from; deeper: a question further in the same room. Days are `YYYY-MM-DD` in the household's zone, `now` is in milliseconds.
 *
 * @typedef {{element: HTMLElement, title: string, bare?: boolean, refresh?: (what: string) => void, leave?: () => void,
 *   stepBack?: () => void}} Shown A room as the window holds it. stepBack: the phone's Back after `deeper`; refresh: `records`, `rulebook`, `sharing` or `day` has changed.
 */
export {};
