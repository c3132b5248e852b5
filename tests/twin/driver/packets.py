"""What hosts say about groups, and what is seen on the wire."""
import socket
import struct

PACKET_OUTGOING = 4
ETH_P_ALL = 0x0003
ETH_P_IP = 0x0800
ETH_P_IPV6 = 0x86dd
SOL_PACKET = 263
PACKET_AUXDATA = 8
TP_STATUS_VLAN_VALID = 1 << 4

MARK = b'rigproof twin'


def checksum(message):
    total = sum(struct.unpack(f'!{len(message) // 2}H', message))
    total = (total >> 16) + (total & 0xffff)
    return ~(total + (total >> 16)) & 0xffff


def summed(message):
    return message[:2] + struct.pack('!H', checksum(message)) + message[4:]


def igmp_query(version, tenths):
    """General query: RFC 2236 section 2 or RFC 3376 section 4.1."""
    head = struct.pack('!BBH4s', 0x11, tenths, 0, b'\0\0\0\0')
    return summed(head if version == 2 else head + struct.pack('!BBH', 2, 1, 0))


def mld_query(version, tenths):
    """General query: RFC 2710 section 3 or RFC 3810 section 5.1. The kernel fills in the checksum."""
    head = struct.pack('!BBHHH16s', 130, 0, 0, tenths * 100, 0, b'')
    return head if version == 1 else head + struct.pack('!BBH', 2, 1, 0)


# RFC 2113 and RFC 2711: Router Alert, which RFC 2236 section 2, RFC 3376 section 4 and RFC 3810 section 5 ask for.
ROUTER_ALERT = b'\x94\x04\x00\x00'
ROUTER_ALERT_6 = b'\x3a\x00\x05\x02\x00\x00\x01\x00'

# RFC 7761 section 4.9.2, with the holdtime option (type 1) of 105 s.
PIM_HELLO = summed(struct.pack('!BBHHHH', 0x20, 0, 0, 1, 2, 105))


def tap(interface):
    sock = socket.socket(socket.AF_PACKET, socket.SOCK_RAW, 0)
    sock.setsockopt(SOL_PACKET, PACKET_AUXDATA, 1)
    sock.setblocking(False)
    sock.bind((interface, ETH_P_ALL))
    return sock


def arrived(sock):
    """Number of the stream, VLAN id (0: untagged) and hops left of each packet that came in since the last call."""
    found = []
    while True:
        try:
            frame, extra, _, (_, protocol, kind, *_) = sock.recvmsg(2048, 128)
        except BlockingIOError:
            return found
        except OSError:
            # The interface went down: said once.
            continue
        if kind == PACKET_OUTGOING:
            continue
        if protocol == ETH_P_IP and frame[23] == socket.IPPROTO_UDP:
            hops, payload = frame[22], frame[14 + (frame[14] & 15) * 4 + 8:]
        elif protocol == ETH_P_IPV6 and frame[20] == socket.IPPROTO_UDP:
            hops, payload = frame[21], frame[14 + 40 + 8:]
        else:
            continue
        if payload.startswith(MARK):
            found.append((struct.unpack('!I', payload[len(MARK):len(MARK) + 4])[0], tag_in(extra), hops))


def tag_in(extra):
    """The kernel takes a tag off a frame before anybody sees it, and tells it beside (packet(7), PACKET_AUXDATA)."""
    for level, kind, data in extra:
        if level == SOL_PACKET and kind == PACKET_AUXDATA:
            status, _, _, _, _, tci, _ = struct.unpack('=IIIHHHH', data[:20])
            if status & TP_STATUS_VLAN_VALID:
                return tci & 0xfff
    return 0
