// @ts-check
/** All rooms but the Round, by the names they have in addresses: what comes once the Round stands, in one go. */
import { room as begin } from "./rooms/begin/room.js";
import { room as catchUp } from "./rooms/catch-up/room.js";
import { room as deed } from "./rooms/diary/deed/room.js";
import { room as photo } from "./rooms/diary/photo/room.js";
import { room as diary } from "./rooms/diary/room.js";
import { room as again } from "./rooms/ground/again/room.js";
import { room as batch } from "./rooms/ground/batch/room.js";
import { room as form } from "./rooms/ground/form/room.js";
import { room as fullness } from "./rooms/ground/fullness/room.js";
import { room as layout } from "./rooms/ground/layout/room.js";
import { room as place } from "./rooms/ground/place/room.js";
import { room as plan } from "./rooms/ground/plan/room.js";
import { room as readings } from "./rooms/ground/readings/room.js";
import { room as ground } from "./rooms/ground/room.js";
import { room as putOff } from "./rooms/job/put-off/room.js";
import { room as job } from "./rooms/job/room.js";
import { room as guest } from "./rooms/join/guest/room.js";
import { room as join } from "./rooms/join/room.js";
import { room as jot } from "./rooms/jot/room.js";
import { room as season } from "./rooms/season/room.js";
import { room as successions } from "./rooms/season/successions/room.js";
import { room as year } from "./rooms/season/year/room.js";
import { room as crop } from "./rooms/shed/crop/room.js";
import { room as crops } from "./rooms/shed/crops/room.js";
import { room as ownCrop } from "./rooms/shed/own-crop/room.js";
import { room as phones } from "./rooms/shed/phones/room.js";
import { room as shed } from "./rooms/shed/room.js";
import { room as seedList } from "./rooms/shed/seed-list/room.js";
import { room as takes } from "./rooms/shed/takes/room.js";
import { room as upkeep } from "./rooms/shed/upkeep/room.js";
import { room as varieties } from "./rooms/shed/varieties/room.js";
import { room as vessels } from "./rooms/shed/vessels/room.js";

/** @type {Record<string, (context: any) => any>} */
export const ALL = {
  job, "put-off": putOff, jot, ground, season, diary, shed, place, batch, takes, vessels, layout, again, fullness, form, deed, varieties, upkeep, plan, begin, readings, year, successions, crops, crop, join, guest, photo, phones, "seed-list": seedList, "catch-up": catchUp, "own-crop": ownCrop,
};
