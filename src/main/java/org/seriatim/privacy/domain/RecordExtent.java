package org.seriatim.privacy.domain;

/**
 * How much a record holds, by kind of entry.
 *
 * @param versions earlier versions that corrections replaced
 */
public record RecordExtent(long series, long sessions, long scars, long assessments, long findings, long contacts,
		long appointments, long drafts, long advice, long versions) {
}
