package sheet

// style is the whole look of the page. Signal words keep their colours of the
// ANSI Z535 families; border, word and sign say the same in black and white.
const style = `
@page { size: auto; margin: 14mm; }
* { box-sizing: border-box; }
body { font: 10.5pt/1.42 "DejaVu Sans", Verdana, sans-serif; color: #1C2126; background: #fff; margin: 0 auto; padding: 18px; max-width: 820px;
  -webkit-print-color-adjust: exact; print-color-adjust: exact; }
@media print { body { padding: 0; max-width: none; } }
h1 { font-size: 19pt; line-height: 1.2; margin: 0 0 8px; }
h2 { font-size: 12.5pt; margin: 20px 0 6px; page-break-after: avoid; break-after: avoid; }
h3 { font-size: 10.5pt; margin: 12px 0 4px; page-break-after: avoid; break-after: avoid; }
p { margin: 6px 0; }
.kind { color: #5B6570; font-size: 9pt; letter-spacing: .08em; text-transform: uppercase; margin: 0; }
.facts { margin: 0; display: table; width: 100%; border-top: 1px solid #8A8F94; }
.facts div { display: table-row; }
.facts dt, .facts dd { display: table-cell; padding: 3px 10px 3px 0; border-bottom: 1px solid #D8D5CC; }
.facts dt { width: 9.5em; color: #5B6570; }
.blank { display: inline-block; width: 20em; height: 1em; }
.note { border-left: 3px solid #8A8F94; padding-left: 10px; }
.finding { border: 2px solid #5B6570; border-radius: 8px; margin: 16px 0; overflow: hidden; page-break-inside: avoid; break-inside: avoid; }
.banner { padding: 9px 14px; border-bottom: 2px solid #5B6570; }
.banner h2 { margin: 0; font-size: 14pt; }
.word { display: inline-block; font-weight: bold; font-size: 14pt; letter-spacing: .08em; }
.alert { height: .95em; width: 1.05em; margin-right: .3em; vertical-align: -0.1em; }
.inner { padding: 6px 14px 10px; }
.finding.danger, .danger .banner { border-color: #C8102E; } .finding.danger .banner { background: #C8102E; color: #fff; }
.finding.warning, .warning .banner { border-color: #FF7900; } .finding.warning .banner { background: #FF7900; color: #000; }
.finding.caution, .caution .banner { border-color: #C79A12; } .finding.caution .banner { background: #FFC72C; color: #000; }
.finding.notice, .notice .banner { border-color: #0057B8; } .finding.notice .banner { background: #0057B8; color: #fff; }
.tag { display: inline-block; font-size: 8pt; font-weight: bold; letter-spacing: .05em; padding: 0 5px; border: 1px solid #000; border-radius: 3px; }
.tag.danger { background: #C8102E; color: #fff; } .tag.warning { background: #FF7900; color: #000; }
.tag.caution { background: #FFC72C; color: #000; } .tag.notice { background: #0057B8; color: #fff; }
.what { margin: 4px 0; }
.what dt { font-weight: bold; margin-top: 6px; }
.what dd { margin: 0 0 0 0; }
.cautions { list-style: none; padding: 0; margin: 8px 0 0; }
.cautions li { margin: 3px 0; }
table { border-collapse: collapse; width: 100%; margin: 6px 0; font-size: 9.5pt; }
th { text-align: left; font-weight: bold; border-bottom: 1.5px solid #1C2126; padding: 3px 8px 3px 0; vertical-align: bottom; }
td { border-bottom: 1px solid #D8D5CC; padding: 4px 8px 4px 0; vertical-align: top; }
tr { page-break-inside: avoid; break-inside: avoid; }
.readings td:nth-child(3) { font-weight: bold; }
.remark td { border-bottom: 1px solid #D8D5CC; color: #3C454D; padding-top: 0; }
.pictures figure { display: inline-block; width: 48%; margin: 0 1% 8px 0; border: 1px solid #D8D5CC; border-radius: 8px; padding: 6px; vertical-align: top; page-break-inside: avoid; break-inside: avoid; }
.pictures svg, .why svg { width: 100%; height: auto; }
.why figure { margin: 8px 0; max-width: 480px; }
figcaption { font-size: 9pt; text-align: center; }
.callout { border: 1.5px solid #5B6570; border-radius: 6px; padding: 4px 10px; margin: 8px 0; }
.aside s { color: #5B6570; }
.sign { border-top: 1px solid #8A8F94; }
.sign div { border-bottom: 1px solid #8A8F94; height: 34px; padding: 4px 0; font-size: 9pt; color: #5B6570; }
.after th:nth-child(n+4) { width: 15%; }
.after td { border: 1px solid #8A8F94; padding: 5px 6px; height: 26px; }
.after th { border: 1px solid #8A8F94; padding: 4px 6px; }
.sign, .deciding { page-break-inside: avoid; break-inside: avoid; }
.last { margin-top: 18px; border-top: 1.5px solid #1C2126; padding-top: 6px; font-weight: bold; }
pre { white-space: pre-wrap; font-size: 9pt; }
`
