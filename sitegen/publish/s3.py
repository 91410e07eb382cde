"""S3-compatible storage as a host, through boto3.

Types and caching are always said and never guessed, no access list is sent,
and no checksum header that only some stores understand.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import boto3
from botocore.config import Config
from botocore.exceptions import (
    BotoCoreError,
    ClientError,
    ConnectionClosedError,
    ConnectTimeoutError,
    EndpointConnectionError,
    HTTPClientError,
    ReadTimeoutError,
    SSLError,
)

from sitegen.model.publish import S3
from sitegen.publish.credentials import S3Login
from sitegen.publish.fault import Fault
from sitegen.publish.host import Entry, caching, media

_SECONDS = 30
_FULL = {"QuotaExceeded", "EntityTooLarge", "StorageFull", "XMinioStorageFull", "InsufficientStorage"}


class S3Host:
    """Keeps objects below a prefix of one bucket. A single PUT is whole or not there."""

    def __init__(self, target: S3, login: S3Login) -> None:
        self._target = target
        prefix = (target.prefix or "").strip("/")
        self._prefix = f"{prefix}/" if prefix else ""
        self._client = boto3.session.Session(login.key_id, login.secret, login.token).client(
            "s3",
            region_name=target.region or ("auto" if target.endpoint else "us-east-1"),
            endpoint_url=target.endpoint,
            config=Config(
                connect_timeout=_SECONDS,
                read_timeout=_SECONDS,
                retries={"total_max_attempts": 1},
                request_checksum_calculation="when_required",
                response_checksum_validation="when_required",
                s3={"addressing_style": "path" if target.endpoint else "auto"},
            ),
        )

    @property
    def place(self) -> str:
        endpoint = (
            (self._target.endpoint or "s3").removeprefix("https://").removeprefix("http://").rstrip("/")
        )
        return f"s3://{endpoint}/{self._target.bucket}/{self._prefix}".rstrip("/")

    def size(self, path: str) -> int | None:
        with self._guarded(path):
            try:
                return self._client.head_object(**self._at(path))["ContentLength"]
            except ClientError as error:
                _only_absent(error)
                return None

    def put_new(self, path: str, data: bytes) -> None:
        with self._guarded(path):
            self._client.put_object(
                **self._at(path), Body=data, ContentType=media(path), CacheControl=caching(path)
            )

    def replace(self, path: str, data: bytes) -> None:
        self.put_new(path, data)

    def read(self, path: str) -> bytes | None:
        with self._guarded(path):
            try:
                return self._client.get_object(**self._at(path))["Body"].read()
            except ClientError as error:
                _only_absent(error)
                return None

    def list(self, folder: str) -> tuple[Entry, ...]:
        start = f"{self._prefix}{folder}/"
        with self._guarded(folder):
            pages = self._client.get_paginator("list_objects_v2").paginate(
                Bucket=self._target.bucket, Prefix=start, Delimiter="/"
            )
            found = [one for page in pages for one in page.get("Contents", ())]
        return tuple(Entry(one["Key"].removeprefix(start), one["Size"]) for one in found)

    def delete(self, path: str) -> None:
        with self._guarded(path):
            self._client.delete_object(**self._at(path))

    def close(self) -> None:
        self._client.close()

    def _at(self, path: str) -> dict[str, Any]:
        return {"Bucket": self._target.bucket, "Key": self._prefix + path}

    @contextmanager
    def _guarded(self, path: str) -> Iterator[None]:
        try:
            yield
        except ClientError as error:
            raise _sorted(error, self.place, path) from None
        except (BotoCoreError, HTTPClientError, OSError) as error:
            raise _lost(error, self.place, path) from None


def _status(error: ClientError) -> tuple[int, str]:
    said = error.response
    return said.get("ResponseMetadata", {}).get("HTTPStatusCode", 0), said.get("Error", {}).get("Code", "")


def _only_absent(error: ClientError) -> None:
    """Raise *error* again unless it says that there is no such object."""
    status, code = _status(error)
    if status != 404 or code == "NoSuchBucket":
        raise error


def _sorted(error: ClientError, place: str, path: str) -> Fault:
    """Sort an answer by its status; the store's words are not repeated, since they may quote a request."""
    status, code = _status(error)
    if code in _FULL or status == 507:
        return Fault("full", place, path)
    if status in (401, 403):
        return Fault("denied", place, f"{path} ({code or status})")
    if status == 404:
        return Fault("absent", place, "the bucket" if code == "NoSuchBucket" else path)
    if status == 429 or status >= 500:
        return Fault("again", place, f"{path} ({code or status})")
    if 300 <= status < 400:
        return Fault("refused", place, f"{path}: the bucket is in another region or at another endpoint")
    return Fault("refused", place, f"{path} ({code or status})")


def _lost(error: Exception, place: str, path: str) -> Fault:
    match error:
        case SSLError():
            return Fault("certificate", place, "its certificate is not trusted here")
        case EndpointConnectionError():
            return Fault("unreachable", place, "no connection")
        case (
            ConnectTimeoutError()
            | ReadTimeoutError()
            | ConnectionClosedError()
            | HTTPClientError()
            | OSError()
        ):
            return Fault("again", place, f"{path}, the connection was lost")
    return Fault("refused", place, f"{path} ({type(error).__name__})")
