/** Every part of the fuzzing that runs in this process. */
import type { Part } from './case.js';
import { plans, readers, spellings } from './parts-reading.js';
import { answers, mended, words } from './parts-asking.js';
import { requests, sides, written } from './parts-writing.js';

export const PARTS: readonly Part[] = [readers, plans, spellings, sides, written, requests, answers, words, mended];
