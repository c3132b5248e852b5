import {
  formatRate,
  linkLabel,
  listNames,
  type FindingWords,
  type Link,
  type NonEmpty,
  carrierWords,
} from '../../../src/doors/rule.js';
import {
  atLeastWords,
  chosenWords,
  leaving,
  rateLabel,
  shareWords,
  type CarriedFacts,
  type ChosenFacts,
  type RateNote,
} from '../../../src/doors/capacity.js';

interface AfterLoss extends CarriedFacts {
  /** What is carried after the worst loss, and by how much rate. */
  readonly afterBps: number;
  readonly afterAtLeast: boolean;
  readonly leftBps: number;
  /** What inputs choose of `afterBps`; undefined where they choose nothing. */
  readonly chosen: ChosenFacts | undefined;
}

export type Facts =
  /** Members of an aggregate that have to carry what the lost one did. */
  | (AfterLoss & { readonly form: 'member' })
  /** Links whose loss leads streams this way, the worst first. */
  | (AfterLoss & { readonly form: 'another'; readonly lost: NonEmpty<Link> });

export type Note = RateNote | 'lost';

export function words(facts: Facts): FindingWords<Note> {
  const { form, links, afterBps, afterAtLeast, leftBps, chosen } = facts;
  const room = form === 'member' ? 'add a member or use faster ones, so that those left carry' : 'give it room for';
  return {
    what: [whatWords(facts), ...(chosen === undefined ? [] : [chosenWords(chosen)])].join('; '),
    onAir: `${failureWords(facts)} packets of every stream on ${form === 'member' && links.length > 2 ? 'them' : 'it'}: the failure that was planned for takes the pictures with it all the same`,
    fix: `${room} ${atLeastWords(afterAtLeast)}${formatRate(afterBps)}, or take ${atLeastWords(afterAtLeast)}${formatRate(afterBps - leftBps)} off it${leaving(
      chosen,
    )
      .map((one) => `; or ${one}`)
      .join('')}`,
    label: (name, note) => (note === 'lost' ? `${name}: when this one is lost` : rateLabel(name, note)),
  };
}

function whatWords(facts: Facts): string {
  const { links, loadBps, atLeast, afterBps, afterAtLeast, leftBps } = facts;
  const share = shareWords(afterBps, leftBps);
  const before = `${carrierWords(links)} carries ${atLeastWords(atLeast)}${formatRate(loadBps)}`;
  if (facts.form === 'member')
    return `${before} over ${links.length} members; with one lost, ${links.length === 2 ? 'the other' : `the other ${links.length - 1}`} must carry it, ${share} of ${formatRate(leftBps)}`;
  const [worst, ...others] = facts.lost;
  const more =
    others.length === 0 ? '' : `, and is too full as well after the loss of ${listNames(others.map(linkLabel), 4)}`;
  return `${before}, but ${afterAtLeast ? 'at least' : 'up to'} ${formatRate(afterBps)} after the loss of link ${linkLabel(worst)}, ${share} of its ${formatRate(leftBps)}${more}`;
}

/** Who fails and who then drops. */
function failureWords(facts: Facts): string {
  if (facts.form === 'member')
    return `when one member fails, ${facts.links.length === 2 ? 'the other drops' : 'the others drop'}`;
  return `when ${listNames(
    facts.lost.map((link) => `link ${linkLabel(link)}`),
    3,
  )} fails, this one drops`;
}
