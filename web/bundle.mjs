// Bundles the page and writes its files as one C++ source. Called as: node bundle.mjs PACKAGES INTO
import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { gzipSync } from "node:zlib";

const [packages, into] = process.argv.slice(2);
const here = import.meta.dirname;
const esbuild = createRequire(join(packages, "package.json"))("esbuild");
const types = { html: "text/html; charset=utf-8", js: "text/javascript; charset=utf-8", css: "text/css; charset=utf-8",
  svg: "image/svg+xml", webmanifest: "application/manifest+json" };

function bundled(entry, define = {}) {
  return esbuild.buildSync({
    entryPoints: [join(here, entry)], bundle: true, minify: true, write: false, format: "iife", target: "es2020",
    nodePaths: [join(packages, "node_modules")], define, legalComments: "none", logLevel: "warning",
  }).outputFiles[0].contents;
}

const files = {
  "/app.js": bundled("app.ts"),
  "/charts.js": bundled("charts.ts"),
  "/page.css": bundled("page.css"),
  "/": readFileSync(join(here, "index.html")),
  "/icon.svg": readFileSync(join(here, "icon.svg")),
  "/page.webmanifest": readFileSync(join(here, "page.webmanifest")),
};
const sum = createHash("sha256");
for (const bytes of Object.values(files)) sum.update(bytes);
const version = sum.digest("hex").slice(0, 12);
files["/worker.js"] = bundled("worker.ts", { VERSION: JSON.stringify(version), FILES: JSON.stringify(Object.keys(files)) });

const literal = (bytes) => {
  const lines = [];
  for (let i = 0; i < bytes.length; i += 4096)
    lines.push('"' + [...bytes.subarray(i, i + 4096)].map((b) => "\\" + b.toString(8).padStart(3, "0")).join("") + '"');
  return lines.join("\n") || '""';
};
let source = '#include "doors/page/assets.h"\n\n#include <array>\n\nnamespace leat::doors {\nnamespace {\n\n';
let rows = "";
let packedAll = 0;
Object.entries(files).forEach(([path, content], i) => {
  const plain = Buffer.from(content), packed = gzipSync(plain, { level: 9 });
  packedAll += packed.length;
  const type = types[path === "/" ? "html" : path.split(".").pop()];
  const tag = createHash("sha256").update(plain).digest("hex").slice(0, 16);
  source += `constexpr char kPlain${i}[] =\n${literal(plain)};\nconstexpr char kPacked${i}[] =\n${literal(packed)};\n`;
  rows += `    Asset{"${path}", "${type}", {kPlain${i}, ${plain.length}}, {kPacked${i}, ${packed.length}}, "${tag}"},\n`;
});
source += `\nconstexpr std::array kAssets = {\n${rows}};\n\n}  // namespace\n\nstd::span<const Asset> assets() {\n  return kAssets;\n}\n\n}  // namespace leat::doors\n`;
writeFileSync(join(into, "assets_data.cpp"), source);
writeFileSync(join(into, "weight.txt"), `${packedAll}\n`);
console.log(`page ${version}: ${packedAll} bytes packed in ${Object.keys(files).length} files`);
