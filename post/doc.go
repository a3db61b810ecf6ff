// Package post is the gate between a plan and a file. What is written is read
// back from its own bytes, must equal the plan step for step, and is judged by
// every limit as it was read; only then does it get its name. See [Through] and
// [Commit].
package post
