package record

import (
	"encoding/json"
	"fmt"

	"nextrung/internal/workout"
)

// Seal links a decision to the client's previous one and names it by its content. before is nil for
// a client's first decision.
func (d Decision) Seal(before *Decision) Decision {
	d.Before = workout.Digest{}
	if before != nil {
		d.Before = before.Digest
	}
	d.Digest = d.digest()
	return d
}

// digest is the SHA-256 of the decision's JSON, all fields but the digest itself, in their order in
// the type.
func (d Decision) digest() workout.Digest {
	sealed := struct {
		Decision
		Digest *workout.Digest `json:"digest,omitempty"` // hides the one inside
	}{Decision: d}
	b, err := json.Marshal(sealed)
	if err != nil {
		panic(err) // plain data always has JSON
	}
	return workout.DigestOf(b)
}

// VerifyChain checks one client's decisions, oldest first: each is as it was sealed and follows the
// one before. It returns an error for the first that does not.
func VerifyChain(all []Decision) error {
	var before workout.Digest
	for i, d := range all {
		if d.Digest != d.digest() {
			return fmt.Errorf("decision %d of %s, entered on %s, was changed after it was made", i+1, d.Client, d.Entered)
		}
		if d.Before != before {
			return fmt.Errorf("decision %d of %s, entered on %s, does not follow the one before it: a decision was removed, added or moved", i+1, d.Client, d.Entered)
		}
		before = d.Digest
	}
	return nil
}
