import { agree, counted, listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly clock: string;
  readonly domain: number;
  /** Clocks that keep its time. */
  readonly followers: number;
  readonly priority1: number;
  readonly priority2: number;
  /** Others of the domain that are meant to lead, out of reach. */
  readonly away: readonly string[];
  /** Who leads when it is lost. */
  readonly next: { readonly name: string; readonly isFreeRunning: boolean } | undefined;
}

export type Note = 'alone' | 'away';

export function words(facts: Facts): FindingWords<Note> {
  const { clock, domain, followers, priority1, priority2, away } = facts;
  const outOfReach = `${listNames(away)} ${agree(away.length, 'is', 'are')} out of their reach`;
  return {
    what: `${clock} is the only grandmaster that the ${counted(followers, 'clock')} of domain ${domain} it leads can hear${away.length === 0 ? '' : `; ${outOfReach}`}`,
    onAir: afterLoss(facts),
    fix:
      away.length === 0
        ? `add a second grandmaster to domain ${domain}: the same priority1 (${priority1}), a priority2 other than ${priority2}, on other power and another antenna`
        : `bring ${listNames(away)} to the networks that ${clock} serves`,
    label: (name, note) => `${name}: ${note === 'alone' ? 'no second one' : 'not in reach'}`,
  };
}

function afterLoss({ clock, next }: Facts): string {
  if (next === undefined)
    return `when ${clock} fails, each clock free-runs: pictures and sound drift apart within minutes to hours`;
  return `when ${clock} fails, ${next.name} leads, ${next.isFreeRunning ? 'free-running, ' : ''}and nobody is told: the time of day drifts, and everything steps when ${clock} is back`;
}
