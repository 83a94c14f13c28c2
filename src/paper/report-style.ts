/** How a report looks on screen and on A4: paper and ink, rules across, tables that repeat their heads. */
export const REPORT_CSS = `
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:15px/1.45 "Atkinson Hyperlegible Next","Atkinson Hyperlegible","DejaVu Sans",sans-serif;font-variant-numeric:tabular-nums}
body{max-width:860px;margin:0 auto;padding:28px 22px 60px}
h1{font-size:28px;line-height:1.15;margin:0}
h2{font-size:19px;margin:34px 0 8px;padding-top:8px;border-top:1.5px solid var(--ink)}
h3{font-size:15px;margin:18px 0 4px}
p{margin:0 0 8px;max-width:78ch}ul{margin:0 0 8px;padding-left:1.3em;max-width:78ch}li{margin-bottom:3px}
.soft,figcaption{color:var(--soft)}
table{border-collapse:collapse;width:100%;font-size:13.5px;margin:4px 0 12px}
th,td{text-align:left;vertical-align:top;font-weight:400;padding:4px 12px 4px 0;border-top:1px solid var(--hair);overflow-wrap:anywhere}
thead th{color:var(--soft);border-top:0}
figure{margin:8px 0 12px}figcaption{font-size:13px}
.drawing{display:block;width:100%;height:auto}
.pictures{display:grid;grid-template-columns:repeat(auto-fit,minmax(340px,1fr));gap:10px 24px}
.caution{border-left:4px solid var(--accent);padding:1px 0 1px 12px}
@media (max-width:700px){main{overflow-x:hidden}section{overflow-x:auto}}
@media print{@page{margin:16mm 14mm}html{font-size:11.5px;background:none}body{max-width:none;padding:0}thead{display:table-header-group}tr,figure,.way,.caution{break-inside:avoid}h2,h3{break-after:avoid}table{font-size:10.5px}}
`;
