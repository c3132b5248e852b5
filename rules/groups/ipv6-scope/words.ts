import {
  agree,
  legLabel,
  listNames,
  receiverLegLabel,
  type FindingWords,
  type Leg,
  type ReceiverLeg,
} from '../../../src/doors/rule.js';
import { destinationWords, groupWords, withGroup, type Destination } from '../../../src/doors/groups.js';

export type Facts = {
  readonly legs: readonly Leg[];
  readonly to: readonly Destination[];
} & (
  | {
      /** The group has no scope in which it could leave the sender. */
      readonly form: 'no-scope';
      readonly faults: readonly string[];
    }
  | {
      /** The group is link-local, and these receivers are behind a router. */
      readonly form: 'link-local';
      readonly receivers: readonly ReceiverLeg[];
    }
);

export function words(facts: Facts): FindingWords<string> {
  const { legs, to } = facts;
  const groups = `${groupWords(legs)} of ${listNames(legs.map(legLabel))}`;
  const fix = `move it to a free group in ${destinationWords(to)}`;
  if (facts.form === 'no-scope') {
    const what = `${groups} can't leave the sender: ${listNames(facts.faults)}`;
    return { what, onAir: 'no receiver ever gets it', fix, label: withGroup };
  }
  const { receivers } = facts;
  const names = listNames(receivers.map(receiverLegLabel));
  return {
    what: `${groups} is link-local, and ${names} ${agree(receivers.length, 'is', 'are')} behind a router`,
    onAir: `no router passes it on: ${names} ${agree(receivers.length, 'stays', 'stay')} black`,
    fix,
    label: withGroup,
  };
}
