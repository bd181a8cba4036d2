/** What an operator can do about a connection that failed; codes of Node.js (system, TLS) and of MQTT 3.1.1 § 3.2.2.3. */
const SENTENCES: Record<string, string> = {
  ECONNREFUSED: 'nothing answers on that port: is the broker running?',
  ENOTFOUND: 'the host name is not known',
  EAI_AGAIN: 'the host name could not be looked up: no network or no name server',
  EHOSTUNREACH: 'the host cannot be reached',
  ENETUNREACH: 'the network cannot be reached',
  ETIMEDOUT: 'the host does not answer',
  ECONNRESET: 'the connection was cut',
  EPIPE: 'the connection was cut',
  '1': 'the broker does not speak MQTT 3.1.1',
  '2': 'the broker refused the client id',
  '3': 'the broker is not available at present',
  '4': 'the broker refused the user name or password',
  '5': 'the broker refused the user name or password (not authorized)',
  DEPTH_ZERO_SELF_SIGNED_CERT: 'its certificate is not trusted: give the CA file that signed it',
  SELF_SIGNED_CERT_IN_CHAIN: 'its certificate is not trusted: give the CA file that signed it',
  UNABLE_TO_VERIFY_LEAF_SIGNATURE: 'its certificate is not trusted: give the CA file that signed it',
  UNABLE_TO_GET_ISSUER_CERT_LOCALLY: 'its certificate is not trusted: give the CA file that signed it',
  CERT_HAS_EXPIRED: 'its certificate has expired',
  ERR_TLS_CERT_ALTNAME_INVALID: 'its certificate is for another host name',
}

/** One sentence for the operator; never with an address that could hold a password. */
export function connectionFault(error: Error & { code?: string | number }): string {
  if (error.message === 'connack timeout') return 'connected, but the broker did not answer'
  return SENTENCES[String(error.code)] ?? (error.message || String(error.code ?? 'unknown fault'))
}
