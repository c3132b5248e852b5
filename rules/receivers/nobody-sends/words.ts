import {
  agree,
  listNames,
  listOr,
  nothingOf,
  receiverLegLabel,
  type FindingWords,
  type ReceiverLeg,
  type Sender,
} from '../../../src/doors/rule.js';

interface Joins {
  readonly legs: readonly ReceiverLeg[];
  readonly group: string;
  /** The one source that is asked for. */
  readonly source: string | undefined;
}

/** Nobody sends the group where the receivers stand. */
interface Unsent extends Joins {
  readonly form: 'unsent';
  readonly where: string;
  /** Who has the source. */
  readonly owner: string | undefined;
  /** Who sends the group elsewhere, and where. */
  readonly senders: readonly Sender[];
  readonly sentIn: readonly string[];
  /** The stream the receiver's other leg takes, and its group here. */
  readonly sibling: { readonly sender: Sender; readonly group: string } | undefined;
}

/** The group is sent, from other sources only. */
interface OtherSources extends Joins {
  readonly form: 'other-sources';
  readonly sources: readonly { readonly address: string; readonly sender: Sender }[];
}

export type Facts = Unsent | OtherSources;

export type Note = { readonly says: 'joins'; readonly asked: string } | { readonly says: 'sends-elsewhere' | 'sends' };

export function words(facts: Facts): FindingWords<Note> {
  const { legs, group, source } = facts;
  const { but, fix } = facts.form === 'unsent' ? unsent(facts) : otherSources(facts);
  const streams = legs.map(({ receiver }) => ({ essence: undefined, format: receiver.format }));
  return {
    what: `${listNames(legs.map(receiverLegLabel))} ${agree(legs.length, 'joins', 'join')} ${group}${source === undefined ? '' : ` from ${source}`}, but ${but}`,
    onAir: `the receiver waits forever: ${nothingOf(streams)} on it, though every light is green`,
    fix,
    label,
  };
}

function label(name: string, note: Note): string {
  switch (note.says) {
    case 'joins':
      return `${name}: joins ${note.asked}`;
    case 'sends-elsewhere':
      return `${name}: sends this group elsewhere`;
    case 'sends':
      return `${name}: sends this group`;
  }
}

function unsent({ where, source, owner, senders, sentIn, sibling }: Unsent): {
  readonly but: string;
  readonly fix: string;
} {
  const names = senders.map((one) => one.label);
  const elsewhere =
    sentIn.length === 0
      ? ''
      : `; ${listNames(names)} ${agree(names.length, 'sends', 'send')} it in ${listNames(sentIn)}`;
  const whose = owner === undefined ? '' : `; ${source ?? ''} is ${owner}`;
  const meant =
    sibling === undefined
      ? 'correct the group'
      : `join ${sibling.group}, as the other leg takes ${sibling.sender.label}`;
  return {
    but: `nothing in the plan sends this group in ${where}${elsewhere}${whose}`,
    fix: `${meant}${sentIn.length === 0 ? '' : ', or receive it where it is sent'}; if the stream comes from outside this plan, list it under \`streams\` with its group`,
  };
}

function otherSources({ sources }: OtherSources): { readonly but: string; readonly fix: string } {
  const names = sources.map(({ address, sender }) => `${address} (${sender.label})`);
  return { but: `there it comes only from ${listNames(names)}`, fix: `join it from ${listOr(names)}` };
}
