import { quote, type ProblemList } from '../problem-list.js';
import type { Placed } from '../tree.js';
import { wholeNumber } from './connection.js';
import type { Line } from './lines.js';
import { placed, spanOf, split, wordsOf, type Piece } from './piece.js';

/** An `m=` line of RTP over UDP (RFC 8866 §5.14). */
export interface MediaLine {
  readonly value: Piece;
  /** `video`, `audio`, `application`, … */
  readonly media: Piece;
  /** Usually one; `port/count` names every second port from there, for RTP and RTCP take two each. */
  readonly ports: readonly Placed<number>[];
  readonly portPiece: Piece;
  /** The first and thereby preferred payload type; absent when the line names none. */
  readonly payloadType: Piece | undefined;
}

const WRITE = 'write `m=video 5004 RTP/AVP 96`: medium, UDP port, transport, payload type';
const MOST_PORTS = 1000;

/** Undefined when the line is unreadable, disabled (port 0, RFC 3264 §6) or not RTP over UDP. */
export function readMediaLine(line: Line, problems: ProblemList): MediaLine | undefined {
  const [media, portPiece, transport, payloadType] = wordsOf(line.value);
  if (media === undefined || portPiece === undefined || transport === undefined) {
    return refuse(line.value, `\`m=\` line ${quote(line.value.text)} has fewer than three parts`);
  }
  if (!isRtpOverUdp(transport.text)) return undefined;
  const [first, count, surplus] = split(portPiece, '/');
  const port = first && wholeNumber(first, 0, 65535);
  if (first === undefined || port === undefined || surplus !== undefined) {
    return refuse(portPiece, `${quote(portPiece.text)} is not a UDP port from 0 to 65535`);
  }
  if (port === 0) return undefined;
  const ports = count === undefined ? 1 : wholeNumber(count, 1, MOST_PORTS);
  if (ports === undefined || port + 2 * (ports - 1) > 65535) {
    return refuse(count ?? first, `${quote(portPiece.text)} does not name UDP ports up to 65535`);
  }
  if (payloadType !== undefined && wholeNumber(payloadType, 0, 127) === undefined) {
    return refuse(payloadType, `${quote(payloadType.text)} is not an RTP payload type from 0 to 127 (RFC 3550 §5.1)`);
  }
  return {
    value: line.value,
    media,
    ports: Array.from({ length: ports }, (_, index) => placed(first, port + 2 * index)),
    portPiece,
    payloadType,
  };

  function refuse(piece: Piece, what: string): MediaLine | undefined {
    problems.add(spanOf(piece), what, WRITE);
    return undefined;
  }
}

/** `RTP/AVP`, `UDP/TLS/RTP/SAVPF`, …; not `TCP/RTP/AVP` (RFC 4571), `UDP/DTLS/SCTP`, `udp`. */
function isRtpOverUdp(transport: string): boolean {
  const layers = transport.toUpperCase().split('/');
  return layers.includes('RTP') && !layers.includes('TCP');
}
