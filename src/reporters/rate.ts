import type { RateResult } from '../answers/rate.js';
import { drawJson } from '../draw/json.js';
import { drawText } from '../draw/text.js';
import { FORMATS_SAID } from '../media/format-forms.js';
import { formsPage } from '../report/rate/forms-page.js';
import { formsJson, rateJson } from '../report/rate/json.js';
import { ratePage } from '../report/rate/page.js';
import { UNWRAPPED } from './options.js';

/** What a stream puts on the wire, what ports carry, what was taken as so. */
export function reportRateText(result: RateResult): string {
  return drawText(ratePage(result), UNWRAPPED);
}

export function reportRateJson(result: RateResult): string {
  return drawJson(rateJson(result));
}

/** How formats are said. */
export function reportFormsText(): string {
  return drawText(formsPage(FORMATS_SAID), UNWRAPPED);
}

export function reportFormsJson(): string {
  return drawJson(formsJson(FORMATS_SAID));
}
