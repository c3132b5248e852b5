import { counted, listNames, withRig, type FindingWords } from '../../../src/doors/rule.js';
import { advantageWords, type Advantage, type ClockOwner, type FirstPlace } from '../../../src/doors/timing.js';

interface Both {
  readonly leader: ClockOwner;
  /** First in the list the rigs agreed on. */
  readonly agreed: ClockOwner;
  readonly domain: number;
  /** Clocks that keep the leader's time. */
  readonly followers: number;
}

export type Facts = Both &
  (
    | { readonly why: 'follows only' | 'unheard' }
    | { readonly why: 'outranked'; readonly advantage: Advantage; readonly remedy: FirstPlace }
  );

export type Note = 'leads' | 'agreed' | 'list';

export function words(facts: Facts): FindingWords<Note> {
  const { leader, agreed, domain, followers } = facts;
  return {
    what: `${withRig(leader)} leads ${counted(followers, 'clock')} of domain ${domain}, and ${withRig(agreed)} is first in the list the rigs agreed on: ${whyWords(facts)}`,
    onAir:
      'the wrong rig relocks when the rigs are joined: pictures and sound of it step or break up, and all of it happens again once somebody puts the clocks right',
    fix: `${remedyWords(facts)}; or write ${withRig(leader)} first in the list, if it is the one`,
    label: (name, note) => (note === 'list' ? 'the list' : `${name}: ${note === 'leads' ? 'leads' : 'is to lead'}`),
  };
}

function whyWords(facts: Facts): string {
  const agreed = withRig(facts.agreed);
  switch (facts.why) {
    case 'follows only':
      return `${agreed} only follows`;
    case 'unheard':
      return `the Announces of ${agreed} do not reach them`;
    case 'outranked':
      return advantageWords(facts.advantage, withRig(facts.leader), agreed);
  }
}

function remedyWords(facts: Facts): string {
  const agreed = withRig(facts.agreed);
  if (facts.why !== 'outranked') return `have ${agreed} heard by all and let it lead`;
  const { remedy } = facts;
  return remedy.change === 'agreed'
    ? `give ${agreed} a priority1 below ${remedy.belowPriority1}, which is the lowest of the others`
    : `give ${listNames(remedy.others.map(withRig))} a priority1 above ${remedy.abovePriority1}, that of ${agreed}`;
}
