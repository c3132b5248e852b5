/**
 * Relates findings to receivers: verdicts say which legs do not arrive and which finding is why, a rule says what its faults
 * do to streams that do arrive.
 */
import { append } from '../collections/group-by.js';
import { eachInput } from '../plan/inputs.js';
import type { Receiver, ReceiverLeg } from '../plan/types.js';
import type { Effect, EffectKind, Harm } from './effect.js';
import { type Finding, findingKey } from './finding.js';
import type { ReceiverVerdicts } from './receivers.js';

/** Who is concerned by a finding, before verdicts are known: what its rule and its entities say. */
export interface Concern {
  readonly harm: Harm | undefined;
  readonly receivers: readonly Receiver[] | undefined;
  /** Legs it may keep from arriving, where its rule explains that at all. */
  readonly legs: readonly ReceiverLeg[];
}

/** Of each finding. `verdicts` are undefined where the plan was not judged whole. */
export function createEffects(verdicts: ReceiverVerdicts | undefined): (finding: Finding, concern: Concern) => Effect {
  const legsOf = new Map<string, ReceiverLeg[]>();
  for (const { finding, receiverLeg } of verdicts?.notDelivered ?? [])
    if (finding !== undefined) append(legsOf, findingKey(finding), receiverLeg);
  const denied = new Set(verdicts?.notDelivered.map(({ receiverLeg }) => receiverLeg));
  const isFollowed = everyLegFollowed(verdicts);
  const left = legsOf.size === 0 ? () => 'dark' as const : whatIsLeft(denied, verdicts);
  return (finding, { harm, receivers, legs }) => {
    const hit = [...new Set((legsOf.get(findingKey(finding)) ?? []).map(({ receiver }) => receiver))];
    const having = (kind: Left): readonly Receiver[] => eachInput(hit.filter((receiver) => left(receiver) === kind));
    const [dark, doubtful, weakened] = [having('dark'), having('doubtful'), having('weakened')];
    const inWay = legs.filter((leg) => denied.has(leg)).map(({ receiver }) => receiver);
    const behind = eachInput([...new Set(inWay)].filter((one) => left(one) === 'dark' && !hit.includes(one)));
    return {
      kind: kindOf({ dark, behind, doubtful, weakened }, harm, isFollowed),
      dark,
      behind,
      doubtful,
      spoiled: harm === 'spoils' ? together(receivers, []) : [],
      weakened: harm === 'exposes' ? together(receivers, weakened) : weakened,
    };
  };
}

/** Undefined where nobody is known. */
function together(
  concerned: readonly Receiver[] | undefined,
  others: readonly Receiver[],
): readonly Receiver[] | undefined {
  if (concerned === undefined) return others.length === 0 ? undefined : others;
  return eachInput([...new Set([...concerned, ...others])]);
}

type Hit = Pick<Effect, 'dark' | 'behind' | 'doubtful'> & { readonly weakened: readonly Receiver[] };

function kindOf({ dark, behind, doubtful, weakened }: Hit, harm: Harm | undefined, isFollowed: boolean): EffectKind {
  if (dark.length > 0) return 'dark';
  if (behind.length > 0) return 'behind';
  if (doubtful.length > 0) return 'doubtful';
  if (harm === 'spoils') return 'spoiled';
  if (weakened.length > 0 || harm === 'exposes') return 'weakened';
  if (harm === 'others') return isFollowed ? 'unicast' : 'unknown';
  return harm ?? 'unknown';
}

/** A leg of unknown rate is followed all the way. */
function everyLegFollowed(verdicts: ReceiverVerdicts | undefined): boolean {
  return verdicts !== undefined && verdicts.legs > 0 && verdicts.notFollowed.every(({ lacks }) => lacks === 'rate');
}

/** What a receiver that loses a leg has left. */
type Left = 'dark' | 'doubtful' | 'weakened';

function whatIsLeft(
  denied: ReadonlySet<ReceiverLeg>,
  verdicts: ReceiverVerdicts | undefined,
): (receiver: Receiver) => Left {
  // A leg of unknown rate is followed all the way.
  const lacking = new Set(
    verdicts?.notFollowed.flatMap(({ lacks, takers }) =>
      lacks === 'rate' ? [] : takers.map(({ receiverLeg }) => receiverLeg),
    ),
  );
  return ({ legs }) => {
    const others = legs.filter((leg) => !denied.has(leg));
    if (others.length === 0) return 'dark';
    return others.every((leg) => lacking.has(leg)) ? 'doubtful' : 'weakened';
  };
}
