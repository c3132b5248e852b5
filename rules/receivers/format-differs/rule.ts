import {
  byLabel,
  clause,
  defineRule,
  formatDifferences,
  formatTime,
  groupBy,
  kindThatWrites,
  listNames,
  mark,
  nothingOf,
  otherPlaces,
  packetTimesDiffer,
  touchOfKind,
  type Citation,
  type Format,
  type FormatDifference,
  type Receiver,
  type Sender,
} from '../../../src/lint/rule.js';

const VIDEO = [clause('ST 2110-20', '7.2')];
const AUDIO = [clause('RFC 8866', '6.6'), clause('AES67-2018', '7.2')];

export default defineRule({
  id: 'receivers/format-differs',
  summary: 'A receiver is set to another format than the stream it takes',
  severity: 'error',
  sources: [...VIDEO, ...AUDIO],
  needs: ['receiverFormats'],
  *check({ plan }) {
    const compared = new Map<Format, Map<Sender, readonly FormatDifference[]>>();
    const differencesOf = (receiver: Receiver): readonly FormatDifference[] => {
      const { format, takes } = receiver;
      if (format === undefined || takes?.format === undefined) return [];
      const known = compared.get(format) ?? new Map<Sender, readonly FormatDifference[]>();
      compared.set(format, known);
      const found = known.get(takes) ?? differences(takes, takes.format, format);
      known.set(takes, found);
      return found;
    };
    const wrong = plan.receivers.filter((receiver) => differencesOf(receiver).length > 0);
    for (const [subject, ofSubject] of groupBy(wrong, subjectOf)) {
      for (const [wanted, list] of groupBy(ofSubject, (receiver) =>
        differencesOf(receiver)
          .map(({ second }) => second)
          .join(', '),
      )) {
        const receivers = byLabel(list, ({ label }) => label);
        const [first, ...rest] = receivers;
        if (first === undefined) continue;
        const found = differencesOf(first);
        const senders = byLabel([...new Set(receivers.flatMap(({ takes }) => takes ?? []))], ({ label }) => label);
        const names = receivers.map(({ label }) => label);
        const lenient = found.every(({ member }) => LENIENT.has(member));
        const values = found.map((one) => `${one.title}: sent ${one.first}, expected ${one.second}`);
        const kind = kindThatWrites(first, first.device, 'format');
        const at = mark(
          first,
          `${kind === undefined ? first.label : `kind ${kind.name}/${first.name}`}: expects ${wanted}`,
          'format',
        );
        yield {
          subject: `${subject} as ${wanted}`,
          parties: [...senders.map(({ label }) => label), ...names],
          severity: lenient ? 'warning' : 'error',
          what:
            `${listNames(names)} ${names.length === 1 ? 'takes' : 'take'} ${listNames(senders.map(({ label }) => label))} ` +
            `but ${names.length === 1 ? 'expects' : 'expect'} another format (${values.join('; ')})`,
          at,
          others: otherPlaces(at, [
            ...rest.map((receiver) => mark(receiver, `${receiver.label}: expects ${wanted}`, 'format')),
            ...senders.map((sender) =>
              mark(sender, `${sender.label}: sends ${found.map((one) => one.first).join(', ')}`, 'format'),
            ),
          ]),
          onAir: onAir(found, senders),
          sources: sourcesFor(senders),
          fix:
            `set the ${names.length === 1 ? 'receiver' : 'receivers'} to ${found.map((one) => one.first).join(', ')}, ` +
            `or the ${senders.length === 1 ? 'sender' : 'senders'} to ${wanted}`,
          touch: kind === undefined ? { kind: 'device', name: first.device.name } : touchOfKind(kind),
        };
      }
    }
  },
});

/** The stream taken, or the kind that states the format for every device. */
function subjectOf(receiver: Receiver): string | undefined {
  const kind = kindThatWrites(receiver, receiver.device, 'format');
  return kind === undefined ? receiver.takes?.label : `kind ${kind.name}/${receiver.name}`;
}

/** Sent first, expected second. A receiver may take fewer channels than are sent, but cannot get more. */
function differences(sender: Sender, sent: Format, expected: Format): readonly FormatDifference[] {
  const found = formatDifferences(sent, expected).filter(
    ({ member }) => member !== 'channels' || (expected.channels ?? 0) > (sent.channels ?? 0),
  );
  const sentTimeNs = sender.legs[0]?.packetTimeNs ?? sent.packetTimeNs;
  const expectedTimeNs = expected.packetTimeNs;
  if (sentTimeNs === undefined || expectedTimeNs === undefined || !packetTimesDiffer(sentTimeNs, expectedTimeNs))
    return found;
  if (found.some(({ member }) => member === 'essence' || member === 'coding')) return found;
  return [
    ...found,
    { member: 'packetTimeNs', title: 'packet time', first: formatTime(sentTimeNs), second: formatTime(expectedTimeNs) },
  ];
}

function onAir(found: readonly FormatDifference[], senders: readonly Sender[]): string {
  const lenient = found.flatMap(({ member }) => LENIENT.get(member) ?? []);
  if (lenient.length === found.length) return lenient.join('; ');
  const wrong =
    WRONG[[...new Set(senders.map(({ essence }) => essence))].length === 1 ? (senders[0]?.essence ?? 'any') : 'any'];
  return `the receiver refuses the stream or plays it wrong: ${nothingOf(senders)}, ${wrong}`;
}

function sourcesFor(senders: readonly Sender[]): readonly Citation[] {
  const essences = new Set(senders.map(({ essence }) => essence));
  if (essences.size !== 1) return [...VIDEO, ...AUDIO];
  return essences.has('video') ? VIDEO : essences.has('audio') ? AUDIO : [clause('RFC 8866', '6.6')];
}

const WRONG = {
  video: 'or a broken raster',
  audio: 'or sound at the wrong speed or level',
  data: 'or data read as something else',
  any: 'a broken raster, or sound at the wrong speed',
} as const;

/** Differences that many receivers live with, and what happens on the others. */
const LENIENT: ReadonlyMap<keyof Format, string> = new Map([
  ['channels', 'the channels that are not sent stay silent, or the receiver refuses the stream'],
  ['packetTimeNs', 'receivers with a fixed packet time refuse the stream or click, those that adapt play it'],
]);
