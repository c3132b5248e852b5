/** Sentences about what changed between two plans. */
import { listNames } from '../../words/lists.js';
import type { Order } from '../../compare/order.js';
import type { ChangeSummary, Comparison, Step } from '../../compare/steps.js';
import { agree, counted } from '../../words/counts.js';

/** `3 streams re-addressed, 1 device new, 2 receivers to re-patch`; nothing for a plan that stayed as it is. */
export function summaryWords(summary: ChangeSummary): string {
  const boxes = [
    ...(summary.devicesToTouch === 0 ? [] : [counted(summary.devicesToTouch, 'device')]),
    ...(summary.switchesToTouch === 0 ? [] : [counted(summary.switchesToTouch, 'switch')]),
  ];
  const parts: readonly (readonly [number, string])[] = [
    [summary.streamsReaddressed, `${counted(summary.streamsReaddressed, 'stream')} re-addressed`],
    [summary.streamsNew, `${counted(summary.streamsNew, 'stream')} new`],
    [summary.streamsGone, `${counted(summary.streamsGone, 'stream')} gone`],
    [summary.devicesNew, `${counted(summary.devicesNew, 'device')} new`],
    [summary.devicesGone, `${counted(summary.devicesGone, 'device')} gone`],
    [summary.devicesRenamed, `${counted(summary.devicesRenamed, 'device')} renamed`],
    [summary.receiversAffected, `${counted(summary.receiversAffected, 'receiver')} to re-patch`],
    [boxes.length, `${listNames(boxes)} to touch`],
  ];
  const words = parts.filter(([number]) => number > 0).map(([, text]) => text);
  return words.length === 0 && summary.onPaper > 0 ? 'only paper changed' : words.join(', ');
}

/** `194 steps, 12 of them on paper only`. */
export function workWords({ steps, summary: { onPaper } }: Comparison): string {
  const all = counted(steps.length, 'step');
  if (onPaper === 0) return all;
  return onPaper === steps.length ? `${all}, on paper only` : `${all}, ${onPaper} of them on paper only`;
}

/** Networks over which boxes are reached and on which nobody has to do anything. */
export function untouchedWords({ untouched }: Order): string {
  if (untouched.length === 0) return '';
  const several = untouched.some(({ rig }) => rig !== untouched[0]?.rig);
  const names = untouched.map(({ rig, name }) => (several && rig !== '' ? `${name} of ${rig}` : name));
  return `${agree(names.length, 'network')} ${listNames(names)}: nothing changes there`;
}

/** What is done, to be read aloud: `group 239.1.1.1 → 239.1.1.2`. */
export function stepWords({ action, what, old, new: now }: Step): string {
  const verb = action === 'set' ? '' : `${action} `;
  if (action === 'add') return `add ${what} ${now ?? ''}`;
  if (action === 'remove') return `remove ${what} ${old ?? ''}`;
  return `${verb}${what} ${old === undefined ? '' : `${old} `}→ ${now ?? 'none'}`;
}
