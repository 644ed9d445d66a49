"""Files: STEP, STL, 3MF, GLB and JSON, each re-read and compared before it gets its name, and the folder they go into.

Nothing is loaded here, so that a command that writes JSON alone loads no other format: `registry` knows the formats,
`folders.export` writes a design's folder, `jsons` holds the JSON documents.
"""
