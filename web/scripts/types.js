// @ts-check
/**
 * The shapes that travel between rooms.
 *
 * @typedef {{id: string, kind: string, stamp: string, fields: Record<string, any>, stamps?: Record<string, string>}}
 *   RecordForm A record, or a change to one.
 *
 * @typedef {{id: string, verb: string, title: string, lead: number, subject: string, place: string | null,
 *   house: string | null, batch: string | null, fixture: string | null, count: number | null, from: string, aim: string,
 *   by: string | null, state: "ready" | "waiting" | "later" | "done" | "let go", leeway: number | null,
 *   in_the_way: {job?: string, fixture?: string, gate?: string, batch?: string, text: string}[], why: string[],
 *   minutes: number, needs: {what: string, amount: number, unit: string}[], cautions: string[], part: number,
 *   repeat: number | null, for: string | null, pinched: string | null, hint: string | null, writes: Record<string, any>,
 *   low: boolean, deeds?: string[], told_by?: string[], at?: string | null}} Job A job as both kernels say it.
 *
 * @typedef {{id: string, kind: string, fields: Record<string, any>}} Wish A change before it has a stamp.
 *
 * @typedef {{kept: number, oldest: number | null, lastShared: number | null, refused: number, reachable: boolean | null,
 *   problem: string | null, clockAheadMs: number, joined: boolean | null}} Sharing What is known of sharing with the server.
 */
export {};
