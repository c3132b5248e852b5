import type { Row } from '../page/page.js';
import { prose } from '../page/phrase.js';
import { row } from '../page/rows.js';

/** What every report says, clean or not. */
export const CAUTION =
  'A clean result is a check on paper, not proof for air. ' +
  'Safety intercom and public address follow local codes and competent testing.';

/** The same as the last row of a report. */
export function cautionRow(): readonly Row[] {
  return row('Caution', prose(CAUTION));
}
