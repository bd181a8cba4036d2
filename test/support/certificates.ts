import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'

export interface CertificateFiles {
  certificate: string
  key: string
  /** The certificate as PEM, for whoever shall trust it. */
  ca: Buffer
}

/** A certificate of its own for localhost and 127.0.0.1, and its key, written by openssl as `NAME.pem` and `NAME.key`. */
export function makeCertificate(folder: string, name: string, days = 90): CertificateFiles {
  const [certificate, key] = [`${folder}/${name}.pem`, `${folder}/${name}.key`]
  const curve = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes']
  const names = ['-subj', `/CN=${name}`, '-addext', 'subjectAltName=DNS:localhost,IP:127.0.0.1']
  const files = ['-keyout', key, '-out', certificate, '-days', String(days)]
  execFileSync('openssl', ['req', '-x509', ...curve, ...names, ...files], { stdio: 'pipe' })
  return { certificate, key, ca: readFileSync(certificate) }
}
