// Reads WebVTT with the npm package webvtt-parser and prints what it understood.
// Usage: node read.cjs <folder with node_modules> <file>
const path = require('path');
const fs = require('fs');

const home = path.join(path.resolve(process.argv[2]), 'node_modules', 'webvtt-parser');
const { WebVTTParser } = require(home);
const tree = new WebVTTParser(JSON.parse(fs.readFileSync(path.join(home, 'html-entities.json'), 'utf8'))).parse(fs.readFileSync(process.argv[3], 'utf8'), 'captions');
const text = (node) => (node.type === 'text' ? node.value : (node.children || []).map(text).join(''));
console.log(JSON.stringify({
  version: require(path.join(home, 'package.json')).version,
  errors: tree.errors.map((e) => `line ${e.line}, column ${e.col}: ${e.message}`),
  cues: tree.cues.map((c) => ({ start: c.startTime, end: c.endTime, text: text(c.tree) })),
}));
