import {
  byLabel,
  clause,
  defineRule,
  groupBy,
  legLabel,
  listNames,
  mark,
  nothingOf,
  touchOfCause,
  writtenOnce,
  type Coding,
  type Format,
  type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'streams/payload-type',
  summary: 'The RTP payload type of a stream means something else',
  severity: 'warning',
  sources: [clause('RFC 3551', '3'), clause('RFC 3551', '6'), clause('RFC 5761', '4'), clause('ST 2110-10', '6.2')],
  needs: ['payloadTypes'],
  *check({ model }) {
    const wrong = model.unusualNumbers.lowPayloadType.filter(isWrong);
    for (const [type, legs] of groupBy(wrong, ({ payloadType }) => payloadType)) {
      for (const cause of writtenOnce(legs, 'payloadType')) {
        const [first, ...rest] = byLabel(cause.legs, legLabel);
        const senders = byLabel(cause.senders, ({ label }) => label);
        const [sender] = senders;
        if (first === undefined || sender === undefined) continue;
        const names = senders.map(({ label }) => label);
        const label = (leg: Leg): string =>
          `${cause.kind === undefined ? legLabel(leg) : `${cause.subject} leg ${leg.index + 1}`}: payload type ${type}`;
        yield {
          subject: `${cause.subject} payload type ${type}`,
          parties: names,
          what: `${listNames(names)} ${names.length === 1 ? 'uses' : 'use'} payload type ${type}, ${meaningFor(type, sender.format)}`,
          at: mark(first, label(first), 'payloadType'),
          others: rest.map((leg) => mark(leg, label(leg), 'payloadType')),
          onAir: isControl(type)
            ? `receivers that check for control packets throw the stream away: ${nothingOf(senders)} there, while others play it`
            : 'some receivers take the number at its fixed meaning and refuse or misread the stream, others play it',
          fix: 'set a payload type from 96 to 127, and the same at its receivers',
          touch: touchOfCause(cause.kind, sender),
        };
      }
    }
  },
});

function meaningFor(type: number, format: Format | undefined): string {
  if (isControl(type)) return 'which looks like a control packet (RTCP) to receivers';
  return `${MEANINGS.get(type) ?? 'which is not one of the free types'}; ${format?.coding ?? 'its format'} has to use one from 96 to 127`;
}

/** 72 to 76 with the marker bit are the RTCP packet types 200 to 204 (RFC 3551 §6). */
function isControl(type: number): boolean {
  return type >= 72 && type <= 76;
}

function isWrong({ payloadType: type, sender }: Leg): boolean {
  if (type === undefined) return false;
  if (isControl(type)) return true;
  const { format } = sender;
  const coding = format?.coding;
  if (format === undefined || coding === undefined || coding === 'other') return false;
  if (FIXED[coding]?.(type, format) === true) return false;
  return STRICT.has(coding) || !isUnassigned(type);
}

/** ST 2110-10 §6.2 leaves its streams the dynamic types only; the older ST 2022-6 is taken to do the same. */
const STRICT: ReadonlySet<Coding> = new Set([
  'st2110-20',
  'st2110-22',
  'st2110-30',
  'st2110-31',
  'st2110-40',
  'st2110-41',
  'st2022-6',
]);

/** Types without a meaning, which RFC 3551 §3 allows once 96 to 127 are used up. */
function isUnassigned(type: number): boolean {
  return (
    (type >= 20 && type <= 24) ||
    type === 27 ||
    type === 29 ||
    type === 30 ||
    (type >= 35 && type <= 71) ||
    (type >= 77 && type <= 95)
  );
}

const MEANINGS: ReadonlyMap<number, string> = new Map([
  [10, 'which stands for stereo L16 at 44.1 kHz'],
  [11, 'which stands for mono L16 at 44.1 kHz'],
  [26, 'which stands for JPEG'],
  [33, 'which stands for an MPEG-2 transport stream'],
]);

/** Codings that have fixed types besides dynamic ones (RFC 3551 §6, tables 4 and 5); facts not stated may fit. */
const FIXED: Readonly<Partial<Record<Coding, (type: number, format: Format) => boolean>>> = {
  'mpeg2-ts': (type) => type === 33,
  mjpeg: (type) => type === 26,
  'st2110-30': isPlainAudio,
  aes67: isPlainAudio,
};

/** 10 and 11: L16 at 44.1 kHz, stereo and mono. */
function isPlainAudio(type: number, { sampleRateHz = 44_100, sampleBits = 16, channels }: Format): boolean {
  if ((type !== 10 && type !== 11) || sampleRateHz !== 44_100 || sampleBits !== 16) return false;
  return channels === undefined || channels === (type === 10 ? 2 : 1);
}
