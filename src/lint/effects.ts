/**
 * Relates findings to receivers: verdicts say which legs do not arrive and which finding is why, a rule says what its faults
 * do to streams that do arrive.
 */
import { append } from '../collections/group-by.js';
import { eachInput } from '../plan/inputs.js';
import type { Receiver, ReceiverLeg } from '../plan/types.js';
import type { Effect, EffectKind, Harm } from './effect.js';
import type { Finding } from './finding.js';
import type { ReceiverVerdicts } from './receivers.js';

/** Who is concerned by a finding, before verdicts are known: what its rule and its entities say. */
export interface Concern {
  readonly harm: Harm | undefined;
  readonly receivers: readonly Receiver[] | undefined;
}

/** Of each finding. `verdicts` are undefined where the plan was not judged whole. */
export function createEffects(verdicts: ReceiverVerdicts | undefined): (finding: Finding, concern: Concern) => Effect {
  const legsOf = new Map<string, ReceiverLeg[]>();
  for (const { finding, receiverLeg } of verdicts?.notDelivered ?? [])
    if (finding !== undefined) append(legsOf, keyOf(finding), receiverLeg);
  const left = legsOf.size === 0 ? () => 'dark' as const : whatIsLeft(verdicts);
  return (finding, { harm, receivers }) => {
    const hit = [...new Set((legsOf.get(keyOf(finding)) ?? []).map(({ receiver }) => receiver))];
    const having = (kind: Left): readonly Receiver[] => eachInput(hit.filter((receiver) => left(receiver) === kind));
    const concerned = receivers === undefined ? undefined : eachInput(receivers);
    const [dark, doubtful, weakened] = [having('dark'), having('doubtful'), having('weakened')];
    return {
      kind: kindOf(dark.length, doubtful.length, weakened.length, harm),
      dark,
      doubtful,
      spoiled: harm === 'spoils' ? concerned : [],
      weakened: harm === 'exposes' ? (concerned ?? (weakened.length > 0 ? weakened : undefined)) : weakened,
    };
  };
}

function kindOf(dark: number, doubtful: number, weakened: number, harm: Harm | undefined): EffectKind {
  if (dark > 0) return 'dark';
  if (doubtful > 0) return 'doubtful';
  if (harm === 'spoils') return 'spoiled';
  if (weakened > 0 || harm === 'exposes') return 'weakened';
  return harm ?? 'unknown';
}

/** What a receiver that loses a leg has left. */
type Left = 'dark' | 'doubtful' | 'weakened';

function whatIsLeft(verdicts: ReceiverVerdicts | undefined): (receiver: Receiver) => Left {
  const denied = new Set(verdicts?.notDelivered.map(({ receiverLeg }) => receiverLeg));
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

function keyOf({ rule, subject }: { readonly rule: string; readonly subject: string }): string {
  return `${rule}\n${subject}`;
}
