/** Look of the printed record: A4, black on white, nothing from elsewhere. */
export const RECORD_STYLE = `
@page { size: A4; margin: 15mm 14mm 16mm; }
.record { box-sizing: border-box; max-width: 182mm; margin: 0 auto; background: #fff; color: #1a1d21;
  font: 10pt/1.4 'Open Sans', 'Noto Sans', system-ui, sans-serif; overflow-wrap: break-word; }
.record h1 { margin: 0; font-size: 17pt; line-height: 1.2; }
.record h2 { margin: 6mm 0 1.5mm; padding-bottom: 0.5mm; border-bottom: 0.3mm solid #68717a; font-size: 12pt;
  break-after: avoid; }
.record h3 { margin: 4mm 0 1mm; font-size: 10.5pt; break-after: avoid; }
.record p, .record ul, .record ol { margin: 1.5mm 0; }
.record ul, .record ol { padding-left: 6mm; }
.record table { width: 100%; margin: 2mm 0; border-collapse: collapse; font-size: 8.5pt; line-height: 1.3; }
.record th, .record td { padding: 0.8mm 1.4mm; border: 0.2mm solid #aab1b8; text-align: left; vertical-align: top; }
.record th { background: #eef0f2; font-weight: 600; }
.record .number { text-align: right; font-variant-numeric: tabular-nums; }
.record td.number { white-space: nowrap; }
.record td:last-child:not(.number) { min-width: 24mm; overflow-wrap: anywhere; }
.record thead { display: table-header-group; }
.record tr, .record figure, .record .step, .record .sign { break-inside: avoid; }
.record figure { margin: 3mm 0; }
.record svg { display: block; width: 100%; height: auto; }
.record .facts { display: grid; grid-template-columns: auto 1fr; gap: 0.5mm 4mm; margin: 2mm 0; }
.record .facts dt { color: #4b535b; }
.record .facts dd { margin: 0; }
.record .stamp { display: inline-block; margin: 2mm 0 0; padding: 0.5mm 2mm; border: 0.4mm solid #1a1d21;
  font-weight: 600; }
.record .step { margin: 2mm 0; }
.record .formula { margin: 0.5mm 0 0.5mm 4mm; font-family: 'DejaVu Sans Mono', ui-monospace, monospace;
  font-size: 8.5pt; }
.record .quiet { color: #4b535b; font-size: 9pt; }
.record .sign { display: grid; grid-template-columns: 32mm 1fr; gap: 7mm 4mm; margin-top: 6mm; align-items: end; }
.record .sign + .quiet { margin-top: 5mm; }
.record .line { border-bottom: 0.3mm solid #68717a; height: 5mm; }
.record .rejected td { color: #4b535b; }
@media screen { html { background: #fff; } .record { padding: 8mm 4mm; } }
@media print { html, body { background: #fff; margin: 0; } }
`
